import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

describe.skipIf(withoutBrowser())("when the regulator fails: what is turned and chosen", () => {
  const desk = openDesk();
  const open = async (hash = "", options = {}) => {
    const visit = await desk.visit(`regulator-fails.html${hash}`, options);
    return { ...visit, ...benchOn(visit.page) };
  };
  const seenBy = (page: Page) => async () => {
    const { verdict, picture } = benchOn(page);
    return { verdict: await verdict(), seen: await picture("What the radio saw"), headroom: await picture("Headroom") };
  };

  test("the trip voltage follows keys and pointer, and verdict and pictures follow it", async () => {
    const { page, slider, field, volts, button, settled, wrong } = await open();
    const seen = seenBy(page);
    const trip = slider("Trip voltage");
    const [first, before] = [await volts(), await seen()];
    expect(before.verdict).toMatch(/^Radio safe /);

    await trip.focus();
    for (let i = 0; i < 10; i++) await page.keyboard.press("ArrowRight");
    await settled();
    expect(await trip.getAttribute("aria-valuetext")).toBe("15.5 V");
    expect(await field("Trip voltage").inputValue()).toBe("15.5 V");
    const byKey = await seen();
    expect(await volts()).toBeGreaterThan(first);
    for (const part of ["verdict", "seen", "headroom"] as const) expect(byKey[part], part).not.toBe(before[part]);

    // By pointer: to the right end, where it fires too late for the radio.
    await trip.scrollIntoViewIfNeeded();
    const box = (await trip.boundingBox())!;
    const filled = Number(await trip.inputValue()) / Number(await trip.getAttribute("max"));
    await page.mouse.move(box.x + 7 + filled * (box.width - 14), box.y + box.height / 2);
    await page.mouse.down();
    for (const share of [0.6, 0.8, 1]) await page.mouse.move(box.x + share * box.width, box.y + box.height / 2);
    await page.mouse.up();
    await settled();
    expect(await trip.getAttribute("aria-valuetext")).toBe("18 V");
    expect((await seen()).verdict).not.toMatch(/^Radio safe /);
    expect(await volts()).toBeGreaterThan(15.9);

    await button(/^default 15 V$/).click();
    await settled();
    expect(await seen()).toEqual(before);
    expect(wrong()).toEqual([]);
  });

  test("a line that is refused says so beside the picture, which is plainly of the line before", async () => {
    const { page, menu, settled, wrong } = await open();
    const grey = (selector: string) =>
      page
        .locator(selector)
        .first()
        .evaluate((element) => getComputedStyle(element).filter);
    await menu("Main fuse").selectOption("blade fuse 40 A");
    await settled();
    expect(await page.locator(".not-run:visible").count()).toBe(0);
    expect(await grey(".bench-verdict .verdict")).toBe("none");
    await menu("Main fuse").selectOption("blade fuse 1 A");
    const here = page.locator(".control", { has: menu("Main fuse") }).locator(".control-refused");
    await here.waitFor();
    expect(await here.innerText()).toMatch(/^This fuse melts in normal service: .* What helps: a larger fuse/);
    expect(await page.locator(".bench-verdict .not-run").innerText()).toMatch(
      /^Not run\. This fuse melts.* Verdict and pictures are of the line before\.$/,
    );
    for (const part of [".bench-verdict .verdict", ".bench-figures .figure"])
      expect(await grey(part), part).toBe("grayscale(1)");
    // At the menu the answer is still in sight, and leaves room for it.
    await menu("Main fuse").scrollIntoViewIfNeeded();
    expect(await page.locator(".bench-verdict").evaluate((head) => head.getBoundingClientRect().top)).toBe(0);
    expect(await page.locator(".bench-verdict").evaluate((head) => head.clientHeight / innerHeight)).toBeLessThan(0.4);
    // Nobody sees a file here: what is wrong is told by the part's name.
    const told = await page.locator(".bench-figures .issues").innerText();
    expect(told).toContain("main fuse");
    expect(told).not.toMatch(/\.yaml|:\d+:\d+/);
    await menu("Main fuse").selectOption("blade fuse 20 A");
    await settled();
    expect(await here.count()).toBe(0);
    expect(await page.locator(".not-run:visible").count()).toBe(0);
    expect(wrong()).toEqual([]);
  });

  test("on a phone what is not over yet is told in full right below the answer", async () => {
    const { page, menu, settled } = await open("", { width: 390, height: 844 });
    expect(await page.locator(".bench-pending").isVisible()).toBe(false);
    await menu("Main fuse").selectOption("none");
    await settled();
    const told = page.locator(".bench-pending");
    expect((await told.innerText()).replace(/\s+/g, " ")).toMatch(
      /^Not over yet .*holds the crowbar on.* counts as failed .* s/,
    );
    const gap = await told.evaluate((element) => {
      const head = document.querySelector(".bench-verdict")!;
      scrollTo(0, 0);
      return element.getBoundingClientRect().top - head.getBoundingClientRect().bottom;
    });
    expect(gap).toBeLessThan(60);
  });

  test("a value is typed, with any unit; a wrong one is explained and changes nothing", async () => {
    const { page, field, slider, verdict, settled, wrong } = await open();
    const before = await verdict();
    const trip = field("Trip voltage");
    const problem = page.locator(".control-range", { has: trip }).locator("[role=alert]");
    for (const [typed, why] of [
      ["thick", /Received “thick”.*Allowed: 14\.2 V to 18 V.*Still 15 V\./],
      ["15 A", /Received “15 A”.*Still 15 V\./],
      ["99 V", /Received “99 V”.*14\.2 V to 18 V.*Still 15 V\./],
      ["15,5 V", /Received “15,5 V”. A comma .*decimals are written with a point.*Still 15 V\./],
      ["<img src=x onerror=alert(1)> V", /Received “<img src=x onerror=alert\(1\)> V”/],
    ] as const) {
      await trip.fill(typed);
      await trip.press("Enter");
      // Numbers keep to their units by a no-break space.
      const told = async () => (await problem.innerText()).replaceAll("\u00a0", " ");
      await expect.poll(told, { timeout: 5000 }).toMatch(why);
      expect(await trip.getAttribute("aria-invalid")).toBe("true");
      expect(await slider("Trip voltage").getAttribute("aria-valuetext")).toBe("15 V");
    }
    expect(await page.locator("main img").count()).toBe(0);
    expect(await verdict()).toBe(before);
    await trip.press("Escape");
    expect(await trip.inputValue()).toBe("15 V");
    await trip.fill("15400 mV");
    await trip.press("Enter");
    await settled();
    expect(await trip.inputValue()).toBe("15.4 V");
    expect(await problem.innerText()).toBe("");
    expect(await verdict()).not.toBe(before);
    expect(wrong()).toEqual([]);
  });

  test("what was changed is undone and done again, by button and by key", async () => {
    const { page, slider, field, menu, button, settled, wrong } = await open();
    const trip = field("Trip voltage");
    const fuse = menu("Main fuse");
    const original = await fuse.inputValue();
    await slider("Trip voltage").focus();
    for (let i = 0; i < 12; i++) await page.keyboard.press("ArrowRight");
    await settled();
    await fuse.selectOption("blade fuse 10 A");
    await settled();
    await button(/^Undo: Main fuse/).click();
    expect(await fuse.inputValue()).toBe(original);
    // Keys that follow each other quickly are one step; a busy machine may part them.
    let steps = 0;
    for (; steps < 6 && (await trip.inputValue()) !== "15 V"; steps++) await page.keyboard.press("Control+z");
    expect(await trip.inputValue(), `after ${steps} steps back`).toBe("15 V");
    for (let i = 0; i < steps; i++) await page.keyboard.press("Control+Shift+z");
    await button(/^Redo: Main fuse/).click();
    await settled();
    expect([await trip.inputValue(), await fuse.inputValue()]).toEqual(["15.6 V", "blade fuse 10 A"]);
    await button(/^Start over/).click();
    await settled();
    expect([await trip.inputValue(), await fuse.inputValue()]).toEqual(["15 V", original]);
    await button(/^Undo/).click();
    await settled();
    expect([await trip.inputValue(), await fuse.inputValue()]).toEqual(["15.6 V", "blade fuse 10 A"]);
    expect(wrong()).toEqual([]);
  });
});
