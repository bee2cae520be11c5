import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { withoutBrowser } from "../support/browser.ts";

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
});
