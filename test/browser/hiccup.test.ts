import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { openHiccup, outcomes, STYLES } from "./support/openers.ts";

describe.skipIf(withoutBrowser())("what if the supply hiccups", () => {
  const desk = openDesk();

  test("sliders move all five pictures; the span of time is chosen and kept in the address", async () => {
    const { page, slider, picture, settled, wrong } = await openHiccup(desk);
    const all = () => Promise.all(STYLES.map(picture));
    const before = await all();
    await slider("Trip point").focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
    await settled();
    const moved = await all();
    for (const [i, style] of STYLES.entries()) expect(moved[i], style).not.toBe(before[i]);
    await page.getByRole("radio", { name: "first 100 ms" }).check();
    await settled();
    expect(page.url()).toContain("view.span=100+ms");
    const short = await all();
    for (const [i, style] of STYLES.entries()) expect(short[i], style).not.toBe(moved[i]);
    await page.reload();
    await settled();
    expect(await page.getByRole("radio", { name: "first 100 ms" }).isChecked()).toBe(true);
    expect(await all()).toEqual(short);
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
