import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { withoutBrowser } from "../support/browser.ts";

const TITLE = "What goes together";
describe.skipIf(withoutBrowser())("what goes first", () => {
  const desk = openDesk();
  const open = async (search = "") => {
    const visit = await desk.visit(`goes-first.html${search}`);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("what the line draws decides: less, and its own fuse will do; more, and nothing fits", async () => {
    const { page, menu, verdict, settled, wrong } = await open();
    await menu("Largest current in service").selectOption("15 A");
    await settled();
    expect(await verdict(TITLE)).toMatch(/^Yours fits/);
    expect(page.url()).toContain("view.load=15+A");
    await menu("Largest current in service").selectOption("29 A");
    await settled();
    expect(await verdict(TITLE)).toMatch(/^Nothing fits/);
    expect(await page.locator(".match-found").innerText()).toMatch(
      /cheapest change found.* a full run with it is sound/,
    );
    expect(wrong()).toEqual([]);
  }, 90_000);

  test("reasons unfold, and a line without a crowbar is told so", async () => {
    const { page, menu, verdict, settled, wrong } = await open();
    await page.getByText(/^Why fuses fell out/).click();
    expect(await page.getByText(/^blade fuse 20\sA \(yours\): The line draws 21\sA/).isVisible()).toBe(true);
    await menu("What protects the radio").selectOption({ index: 0 });
    await settled();
    expect(await verdict(TITLE)).toMatch(/^No answer This line has no crowbar/);
    expect(wrong()).toEqual([]);
  }, 90_000);
});
