import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { lineInHand } from "../browser/support/files.ts";
import { withoutBrowser } from "../support/browser.ts";

const ANSWER = "Which scheme";

const names = (page: Page) =>
  page.getByRole("region", { name: "The same fault" }).getByRole("rowheader").allInnerTexts();
const listed = (page: Page) => page.locator(".scheme-list strong").allInnerTexts();

describe.skipIf(withoutBrowser())("schemes side by side", () => {
  const desk = openDesk();
  const open = async (search = "") => {
    const visit = await desk.visit(`compare.html${search}`);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("a scheme that is none is refused at its own field, and the list stays; the line itself does not take part twice", async () => {
    const { page, button, settled, wrong } = await open("#v=1&line=01-shorted-pass-transistor");
    expect(await listed(page)).toHaveLength(10);
    expect(
      await page.getByText("SCR with fuse does not take part. The line is this scheme as it stands.").count(),
    ).toBe(1);
    await page.getByLabel("Name of your own").fill("broken");
    await page.getByLabel("What it changes").fill("crowbar: {trip: 3 V}");
    await page.keyboard.press("Enter");
    await button("Add your own scheme").click();
    await expect.poll(() => page.locator(".issues").filter({ hasText: "There is no key `trip` here" }).count()).toBe(1);
    const box = page.locator(".scheme-form > .issues");
    expect(await box.innerText()).not.toMatch(/variants\[|was not run/);
    const [inner, outer] = [await box.boundingBox(), await page.locator(".bench-controls").boundingBox()];
    expect((inner?.x ?? 0) + (inner?.width ?? 1e9)).toBeLessThanOrEqual((outer?.x ?? 0) + (outer?.width ?? 0));
    await expect.poll(() => box.evaluate((each) => each.getBoundingClientRect().top < innerHeight)).toBe(true);
    expect(await listed(page)).toHaveLength(10);
    await page.getByLabel("What it changes").fill("main fuse: blade fuse 30 A");
    await page.keyboard.press("Enter");
    await button("Add your own scheme").click();
    await settled();
    expect(await listed(page)).toContain("broken");
    expect(await names(page)).toContain("broken");
    expect(wrong()).toEqual([]);
  }, 120_000);

  test("schemes are moved, taken away, named, changed and added, by keyboard, and all of that is in the file and can be undone", async () => {
    const { page, button, menu, verdict, settled, wrong } = await open();
    const before = await listed(page);
    await button("Move down: nothing").focus();
    await page.keyboard.press("Enter");
    expect((await listed(page)).slice(0, 2)).toEqual(["clamp", "nothing"]);
    // The scheme stays in hand.
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe("Move down: nothing");
    await button("Remove: small SCR").click();
    await settled();
    expect(await names(page)).not.toContain("small SCR");
    await menu("Ready-made").selectOption("own OVP");
    await button("Add the ready-made scheme").click();
    await button("Change: relay").click();
    await page.getByLabel("Name of your own").fill("fast relay");
    await page.getByLabel("What it changes").fill("scheme: relay, series switch: {opening time: 0.5 ms}");
    await page.keyboard.press("Enter");
    await button("Change relay").click();
    await settled();
    expect(await names(page)).toEqual(expect.arrayContaining(["own OVP", "fast relay"]));
    const text = await lineInHand(page);
    expect(text).toContain("{name: fast relay, scheme: relay, series switch: {opening time: 0.5 ms}}");
    expect(await verdict(ANSWER)).toMatch(/safe in \d of 9/);
    for (let i = 0; i < 4; i++) await page.keyboard.press("Control+z");
    await settled();
    expect(await listed(page)).toEqual(before);
    expect(wrong()).toEqual([]);
  }, 120_000);
});
