import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { lineInHand } from "./support/files.ts";

describe.skipIf(withoutBrowser())("how sure am I", () => {
  const desk = openDesk();
  const open = async (width = 1024) => {
    const visit = await desk.visit("how-sure.html", { width });
    return { ...visit, ...benchOn(visit.page) };
  };

  test("a hundred samples by themselves, more when asked for; a finer reference changes the answer", async () => {
    const { page, button, menu, picture, verdict, settled, wrong } = await open();
    const [first, drawn] = [await verdict("How sure it is"), await picture("How sure it is")];
    expect(first).toMatch(/of 100 samples|chance/);
    await menu("Threshold of the crowbar").selectOption("shunt reference 0.5 %");
    await settled();
    expect(await picture("How sure it is")).not.toBe(drawn);
    expect(await lineInHand(page)).toContain("crowbar.trip voltage: grade shunt reference 0.5 %");
    await page.keyboard.press("Control+z");
    await settled();
    // The same samples come again.
    expect(await verdict("How sure it is")).toBe(first);
    expect(await picture("How sure it is")).toBe(drawn);
    await button("Open the worst sample").click();
    await settled();
    expect(await lineInHand(page)).not.toMatch(/^tolerances:/m);
    expect(await verdict("How sure it is")).toBe(
      "No value of this line carries a spread yet: “Give it spreads” writes some into it.",
    );
    await button("Give it spreads").click();
    await settled();
    expect(await verdict("How sure it is")).toMatch(/of 100 samples|chance/);
    expect(wrong()).toEqual([]);
  }, 120_000);
});
