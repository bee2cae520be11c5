import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

describe.skipIf(withoutBrowser())("the battery page", () => {
  const desk = openDesk();
  test("the creep, the limit on its label, the terminal that falls off", async () => {
    const { page, wrong } = await desk.visit("battery.html");
    const { slider, picture, verdict, settled } = benchOn(page);
    const clock = () => page.locator(".clock").innerText();
    const [creep, counted] = [await picture("From hours to microseconds"), await clock()];
    expect(counted).toMatch(/from the first creep to the trip/);
    await slider("Trip voltage").focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowLeft");
    await settled();
    expect(await picture("From hours to microseconds")).not.toBe(creep);
    const earlier = await clock();
    expect(earlier).not.toBe(counted);
    await slider("The battery’s own charge limit").focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
    await settled();
    expect(await clock()).not.toBe(earlier);
    const fallen = await verdict("Verdict on the terminal that falls off");
    await page.getByRole("checkbox", { name: /Without the series switch/ }).check();
    await settled();
    expect(await verdict("Verdict on the terminal that falls off")).not.toBe(fallen);
    expect(await page.getByRole("figure", { name: /current after the trip$/ }).count()).toBe(3);
    expect(wrong()).toEqual([]);
  }, 60_000);
});
