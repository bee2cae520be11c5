import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { lineInHand } from "../browser/support/files.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("how sure am I", () => {
  const desk = openDesk();
  const open = async (width = 1024) => {
    const visit = await desk.visit("how-sure.html", { width });
    return { ...visit, ...benchOn(visit.page) };
  };

  test("ten thousand are cancelled at once, and the page answers all the while", async () => {
    const { page, button, wrong } = await open();
    await page.getByRole("radio", { name: "10000" }).check();
    await button("Draw the samples").click();
    await page.getByText(/of 10\d\d\d runs/).waitFor();
    const begin = Date.now();
    await button("Cancel: Samples").click();
    await page.getByText("Cancelled.").waitFor();
    expect(Date.now() - begin).toBeLessThan(3000);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("a plane, and one of its points as a line", async () => {
    const { page, button, picture, settled, wrong } = await open();
    await button("Draw the plane").click();
    await page.getByRole("figure", { name: "What if", exact: true }).waitFor({ timeout: 60_000 });
    await settled();
    expect(await picture("What if")).toContain("load safe");
    await page.getByLabel("A point of the plane").fill("15.2 V");
    await page.keyboard.press("Enter");
    await button("Open this point").click();
    expect(await page.locator(".issues").filter({ hasText: "a value for each axis" }).count()).toBe(1);
    await page.getByLabel("A point of the plane").fill("15.2 V, 30 us");
    await page.keyboard.press("Enter");
    await button("Open this point").click();
    await settled();
    expect(await lineInHand(page)).toContain("trip voltage: 15.2 V, sense filter: 30 us");
    expect(wrong()).toEqual([]);
  }, 120_000);
});
