import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk, type VisitOptions } from "./support/desk.ts";
import { lineInHand } from "./support/files.ts";

/** The browser forbids keeping anything. */
function forbidStorage(): void {
  const no = (): never => {
    throw new DOMException("The operation is insecure.", "SecurityError");
  };
  for (const name of ["indexedDB", "localStorage", "sessionStorage"])
    Object.defineProperty(window, name, { get: no, configurable: true });
}

/** The disk is full from the moment that `window.full` is set. */
function fillStorage(): void {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given: Parameters<typeof put>) {
    if ("full" in window) throw new DOMException("Quota exceeded.", "QuotaExceededError");
    return put.apply(this, given);
  };
}

describe.skipIf(withoutBrowser())("a person's work is kept", () => {
  const desk = openDesk();
  const open = async (options: VisitOptions = {}, hash = "") => {
    const visit = await desk.visit(`regulator-fails.html${hash}`, options);
    return {
      ...visit,
      ...benchOn(visit.page),
      dialog: (name: string | RegExp) => visit.page.getByRole("dialog", { name }),
    };
  };

  test("saved under a name, found again after a reload, renamed, deleted only when asked, and brought back", async () => {
    const { page, field, button, dialog, said, settled, wrong } = await open();
    await field("Trip voltage").fill("15.4 V");
    await field("Trip voltage").press("Enter");
    await settled();
    const text = await lineInHand(page);
    expect(text).toContain("trip voltage: 15.4 V");

    await button("Save").click();
    await dialog("Save this line").getByLabel("Name").fill("Roof <b>hut</b>");
    await dialog("Save this line").getByRole("button", { name: "Save" }).click();
    await said(/Saved as “Roof <b>hut<\/b>”/);
    expect(await page.getByRole("region", { name: "Line in hand" }).innerText()).toContain("kept in this browser");

    // The address follows a moment later.
    await page.waitForURL(/own=Roof/);
    await page.reload();
    await settled();
    expect(await lineInHand(page)).toBe(text);
    expect(await button(/choose another line$/).innerText()).toBe("Roof <b>hut</b>");

    // Another line, and back through the list.
    await button(/choose another line$/).click();
    const lines = dialog("Choose a line");
    await lines.getByLabel("Find").fill("relay contact");
    await lines
      .getByRole("button", { name: /relay contact/i })
      .first()
      .click();
    await settled();
    expect(await lineInHand(page)).not.toBe(text);
    await button(/choose another line$/).click();
    await lines.getByRole("button", { name: "Rename: Roof <b>hut</b>" }).click();
    await dialog(/^Rename/)
      .getByLabel("Name")
      .fill("Cellar");
    await dialog(/^Rename/)
      .getByRole("button", { name: "Rename" })
      .click();
    await lines.getByText("is “Cellar” now").waitFor();

    await lines.getByRole("button", { name: "Delete: Cellar" }).click();
    const question = page.getByRole("dialog").last();
    expect(await question.innerText()).toContain("Cellar");
    // The harmless answer has the focus.
    await page.keyboard.press("Enter");
    expect(await lines.getByRole("button", { name: /^Cellar/ }).count()).toBe(1);
    await lines.getByRole("button", { name: "Delete: Cellar" }).click();
    await page
      .getByRole("dialog")
      .last()
      .getByRole("button", { name: /^Delete/ })
      .click();
    await lines.getByText("“Cellar” was deleted.").waitFor();
    expect(await lines.getByRole("button", { name: "Delete: Cellar" }).count()).toBe(0);
    await lines.getByRole("button", { name: "Bring it back" }).click();
    await lines.getByRole("button", { name: /^Cellar/ }).click();
    await settled();
    expect(await lineInHand(page)).toBe(text);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("what was in hand is still there after a crash of the page", async () => {
    const { page, context, menu, settled } = await open();
    await menu("Main fuse").selectOption("blade fuse 10 A");
    await settled();
    const text = await lineInHand(page);
    const session = await context.newCDPSession(page);
    const crashed = page.waitForEvent("crash");
    session.send("Page.crash").catch(() => {});
    await crashed;
    const again = await open({ context });
    expect(await lineInHand(again.page)).toBe(text);
    expect(again.wrong()).toEqual([]);
  });

  test("where the browser keeps nothing, that is said and the page works", async () => {
    const { page, field, button, dialog, notice, verdict, settled, wrong } = await open({ before: forbidStorage });
    expect(await notice(/not kept/)).toMatch(/does not let these pages keep anything|keeps nothing/);
    const before = await verdict();
    await field("Trip voltage").fill("16 V");
    await field("Trip voltage").press("Enter");
    await settled();
    expect(await verdict()).not.toBe(before);
    await button("Save").click();
    expect(await dialog("Save this line").innerText()).toContain("Kept only until this page is closed.");
    await page.keyboard.press("Escape");
    expect(await lineInHand(page)).toContain("trip voltage: 16 V");
    expect(wrong()).toEqual([]);
  });

  test("where the disk is full, that is said, nothing is lost, and saving works once there is room", async () => {
    const { page, field, button, dialog, said, settled, wrong } = await open({ before: fillStorage });
    await page.evaluate(() => Object.assign(window, { full: true }));
    await field("Trip voltage").fill("15.2 V");
    await field("Trip voltage").press("Enter");
    await settled();
    await button("Save").click();
    await dialog("Save this line").getByRole("button", { name: "Save" }).click();
    await dialog("Save this line").getByRole("alert").filter({ hasText: "no room left" }).waitFor();
    await page.keyboard.press("Escape");
    expect(await page.getByRole("region", { name: "The line was not saved." }).innerText()).toMatch(
      /still in hand[\s\S]*no room left/,
    );
    expect(await lineInHand(page)).toContain("trip voltage: 15.2 V");
    await page.evaluate(() => Reflect.deleteProperty(window, "full"));
    await button("Save").click();
    await dialog("Save this line").getByRole("button", { name: "Save" }).click();
    await said(/^Saved as/);
    expect(wrong()).toEqual([]);
  });
});
