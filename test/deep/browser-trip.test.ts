import { describe, expect, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { openTrip } from "../browser/support/openers.ts";
import { withoutBrowser } from "../support/browser.ts";

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
});
