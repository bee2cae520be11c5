import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
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
});
