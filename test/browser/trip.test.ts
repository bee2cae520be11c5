import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { openTrip } from "./support/openers.ts";

const ANSWER = "Where the trip point belongs";
const BAND = `${ANSWER}: the band`;

describe.skipIf(withoutBrowser())("where do you set the trip", () => {
  const desk = openDesk();

  test("finer resistors widen the place, colder winters narrow it, and the divider table follows", async () => {
    const { page, picture, slider, answer, width, wrong } = await openTrip(desk);
    expect(await answer()).toMatch(/^There is a place Set the trip point between/);
    const [before, drawn] = [await width(), await picture(BAND)];
    const table = page.getByRole("region", { name: "Dividers" });
    const rows = await table.getByRole("row").count();
    expect(rows).toBe(10);
    await page.getByRole("radio", { name: "0.1 %", exact: true }).check();
    await expect.poll(width).toBeGreaterThan(before + 0.3);
    expect(await picture(BAND)).not.toBe(drawn);
    const fine = await width();
    await expect.poll(() => page.url()).toContain("view.resistors=0.1");
    await slider("Coldest").focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowLeft");
    await expect.poll(width).toBeLessThan(fine);
    await page.reload();
    await expect.poll(width, { timeout: 20_000 }).toBeGreaterThan(before);
    expect(await page.getByRole("radio", { name: "0.1 %", exact: true }).isChecked()).toBe(true);
    expect(wrong()).toEqual([]);
  }, 60_000);
});
