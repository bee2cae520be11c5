import { describe, expect, test } from "vitest";
import { violations } from "../browser/support/accessible.ts";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { hostile, saidAndLeftOut } from "../browser/support/hostile-addresses.ts";
import { fitOf } from "../browser/support/text-boxes.ts";
import { everythingThatOpens } from "../browser/support/what-opens.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("further looks at the pages", () => {
  const desk = openDesk();

  test.each(hostile.slice(3))("%s: said, and the page comes as it is without", (_, hash) => saidAndLeftOut(desk, hash));

  test(
    "what opens over a page is for everybody on a telephone, one after the other",
    () => everythingThatOpens(desk, 390, "light"),
    60_000,
  );

  test("capture: a telephone shows all of it, also with the form open and values found", async () => {
    const { page, wrong } = await desk.visit("capture.html", { width: 390, height: 844, hasTouch: true });
    const { button, settled } = benchOn(page);
    await page.getByText("Correct what was understood").click();
    await button("Find the values").click();
    await page.getByRole("region", { name: "Values found", exact: true }).waitFor({ timeout: 60_000 });
    await settled();
    await page.evaluate(() => scrollTo(0, 0));
    const { sideways, overlaps, clipped } = await fitOf(page);
    expect({ sideways, overlaps, clipped }).toEqual({ sideways: 0, overlaps: [], clipped: [] });
    expect(await violations(page)).toEqual([]);
    expect(wrong()).toEqual([]);
  }, 120_000);

  // One visit for all widths: what stands where follows the window, and five styles are run once.
  test("hiccup: tiles stand in full rows, and what became of each style in one column, at 1280, 1440 and 390 px", async () => {
    const { page } = await desk.visit("hiccup.html", { width: 1280, settle: false });
    const settled = () => benchOn(page).settled(".bench");
    await settled();
    const fuses = page.getByRole("list", { name: /^Main fuse/ }).getByRole("listitem");
    for (const width of [1280, 1440, 390]) {
      await page.setViewportSize({ width, height: 900 });
      await settled();
      await expect.poll(() => fuses.count()).toBe(12);
      const tops = await fuses.evaluateAll((all) => all.map((each) => Math.round(each.getBoundingClientRect().top)));
      const rows = [...new Set(tops)].map((top) => tops.filter((each) => each === top).length);
      expect(new Set(rows).size, `${width} px: ${rows.join(", ")}`).toBe(1);
      const edges = await page
        .locator(".run-ends > dd")
        .evaluateAll((all) =>
          all.map((each) =>
            Math.round(each.getBoundingClientRect().left - each.parentElement!.getBoundingClientRect().left),
          ),
        );
      expect(new Set(edges).size, `${width} px`).toBe(1);
    }
  });
});
