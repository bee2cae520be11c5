import { describe, expect, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { openTrip } from "../browser/support/openers.ts";
import { withoutBrowser } from "../support/browser.ts";

const ANSWER = "Where the trip point belongs";

describe.skipIf(withoutBrowser())("where do you set the trip", () => {
  const desk = openDesk();

  test("a battery charged in the cold leaves no place on the same line, and a line that cannot be asked says so", async () => {
    const cold = await openTrip(desk);
    const told = () => cold.verdict("While a battery is charged in the cold");
    await expect.poll(told, { timeout: 30_000 }).toMatch(/^No place No trip point is right in the worst case/);
    expect(cold.wrong()).toEqual([]);
    const bare = await openTrip(desk, "trip.html#v=1&line=07-lost-feedback-unprotected");
    expect(await bare.answer()).toMatch(/^Cannot be told/);
    expect(await bare.page.getByText(/There is no protector in this line/).count()).toBeGreaterThan(0);
    expect(bare.wrong()).toEqual([]);
  }, 90_000);

  test("where there is none, it says why and tries what would open one", async () => {
    const { page, menu, answer, wrong } = await openTrip(desk);
    await menu("What compares the voltage").selectOption("zener 15 V");
    await expect.poll(answer).toMatch(/^No place No trip point is right in the worst case/);
    expect(await page.getByRole("region", { name: ANSWER, exact: true }).getByRole("listitem").count()).toBeGreaterThan(
      2,
    );
    const cheapest = "The cheapest change that opens one: shunt reference 1 % with resistors of 1 %";
    await expect.poll(answer, { timeout: 30_000 }).toContain(cheapest);
    const tried = page.getByRole("region", { name: "What was tried to open a band", exact: true });
    expect(await tried.getByText("yes", { exact: true }).count()).toBeGreaterThan(0);
    await menu("What compares the voltage").selectOption("shunt reference 1 %");
    await expect.poll(answer).toMatch(/^There is a place/);
    expect(wrong()).toEqual([]);
  }, 60_000);
});
