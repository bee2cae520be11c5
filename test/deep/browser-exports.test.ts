import { describe, expect, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { saveAs } from "../browser/support/files.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("pictures and data for elsewhere", () => {
  const desk = openDesk();
  const open = async () => {
    const context = await desk.context({ permissions: ["clipboard-read", "clipboard-write"] });
    const visit = await desk.visit("regulator-fails.html", { context });
    const figure = visit.page.getByRole("figure", { name: "What the radio saw", exact: true });
    const done = (words: string) => figure.locator(".menu-said").filter({ hasText: words }).waitFor();
    return { ...visit, figure, done };
  };

  test("picture and data go to the clipboard, and what the browser refuses is said", async () => {
    const { page, figure, done, wrong } = await open();
    await saveAs(figure, /^Copy data/);
    await done("Copied.");
    const data = await page.evaluate(() => navigator.clipboard.readText());
    expect(data.split("\n").length).toBeGreaterThan(200);
    await saveAs(figure, /^Copy picture/);
    await done("Copied.");
    const types = await page.evaluate(async () => (await navigator.clipboard.read()).flatMap((item) => item.types));
    expect(types).toContain("image/png");
    await page.evaluate(() => {
      navigator.clipboard.writeText = () =>
        Promise.reject(new DOMException("Write permission denied.", "NotAllowedError"));
    });
    await saveAs(figure, /^Copy data/);
    await done("Save the file instead.");
    await page.keyboard.press("Escape");
    expect(wrong()).toEqual([]);
  });
});
