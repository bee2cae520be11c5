import { describe, expect, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { openHiccup, outcomes, STYLES } from "../browser/support/openers.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("what if the supply hiccups", () => {
  const desk = openDesk();

  test("five ways of limiting on one line: each ends its own way, and a fuse changes the story", async () => {
    const { page, menu, verdict, picture, settled, wrong } = await openHiccup(desk);
    const before = await outcomes(page);
    expect(before).toMatchObject({
      Hiccup: ["Trips again and again", "Back alone"],
      "Latch-off": ["Latched off", "Drive up"],
      "No limit": ["Fuse blown", "Drive up"],
    });
    for (const style of STYLES) expect((await picture(style)).length, style).toBeGreaterThan(2000);
    expect(await verdict("What ends the fault")).toMatch(/^Trips again and again The fuse blows with 1 of 5/);
    await menu("Main fuse").selectOption("blade fuse 3 A");
    await settled();
    const after = await outcomes(page);
    expect(after["Hiccup"]?.[0]).toBe("Fuse blown");
    expect(await verdict("What ends the fault")).not.toMatch(/with 1 of 5/);
    await page.keyboard.press("Control+z");
    await settled();
    expect(await outcomes(page)).toEqual(before);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("an hour is computed, its alike rounds at once, and what it came to is told", async () => {
    const { page, button, allSettled, wrong } = await openHiccup(desk);
    await allSettled();
    const before = await page.getByRole("figure", { name: "How hot the SCR gets" }).locator("svg").first().innerHTML();
    await button("Follow it for an hour (no picture)").click();
    const told = page.locator(".long-run");
    await expect.poll(() => told.innerText(), { timeout: 30_000 }).toMatch(/Computed: 1\sh after the fault/);
    const steps = Number(/in ([\d,\s]+) steps/.exec(await told.innerText())?.[1].replaceAll(/\D/g, ""));
    // Each of its 11 000 rounds takes more than a hundred, one by one.
    expect(steps).toBeLessThan(50_000);
    const text = (await page.locator(".facts").allInnerTexts()).join(" ");
    expect(text).toMatch(/rounds, each like the one before, in the end every 317\sms, were worked out at once/);
    expect(text).toMatch(/Computed, 1\sh after the fault: the junction of the crowbar had reached/);
    const after = await page.getByRole("figure", { name: "How hot the SCR gets" }).locator("svg").first().innerHTML();
    expect(after).toBe(before);
    const note = page.getByText(/^The picture shows the first 10\ss only; what the 1\sh came to is told in numbers\.$/);
    expect(await note.isVisible()).toBe(true);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("a long run tells how far it is, can be stopped, and says so; the page answers meanwhile", async () => {
    const { page, button, menu, settled, wrong } = await openHiccup(desk);
    const long = page.locator(".long-run");
    await button("Follow it for ten minutes").click();
    const bar = long.getByRole("progressbar", { name: "Run" });
    await bar.waitFor();
    // Its turn comes behind the sweeps.
    await expect
      .poll(() => long.innerText(), { timeout: 20_000 })
      .toMatch(/of 10(\.\d+)?\smin computed|of 600\ss computed/);
    await long.getByRole("button", { name: "Stop" }).click();
    await expect
      .poll(() => long.innerText(), { timeout: 10_000 })
      .toMatch(/Stopped by hand: (?:[\d.,]+\s\w+\s)+after the fault/);
    await settled();
    expect(await long.innerText()).not.toMatch(/: 10\smin/);
    await menu("Main fuse").selectOption("blade fuse 10 A");
    await settled();
    expect((await outcomes(page))["No limit"]?.[0]).toBe("Fuse blown");
    expect(wrong()).toEqual([]);
  }, 60_000);
});
