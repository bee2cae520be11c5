import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { openHiccup, STYLES } from "./support/openers.ts";

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
});
