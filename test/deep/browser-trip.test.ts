import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { withoutBrowser } from "../support/browser.ts";

const ANSWER = "Where the trip point belongs";

describe.skipIf(withoutBrowser())("where do you set the trip", () => {
  const desk = openDesk();
  const open = async (path = "trip.html") => {
    const visit = await desk.visit(path);
    const bench = benchOn(visit.page);
    const answer = () => bench.verdict(ANSWER);
    /** The window of the answer, V. */
    const width = async (): Promise<number> => {
      const found = /between ([\d.]+) V and ([\d.]+) V/.exec(await answer());
      return found === null ? 0 : Number(found[2]) - Number(found[1]);
    };
    await expect.poll(answer, { timeout: 20_000 }).not.toMatch(/^Computing/);
    return { ...visit, ...bench, answer, width };
  };

  test("a battery charged in the cold leaves no place on the same line, and a line that cannot be asked says so", async () => {
    const cold = await open();
    const told = () => cold.verdict("While a battery is charged in the cold");
    await expect.poll(told, { timeout: 30_000 }).toMatch(/^No place No trip point is right in the worst case/);
    expect(cold.wrong()).toEqual([]);
    const bare = await open("trip.html#v=1&line=07-lost-feedback-unprotected");
    expect(await bare.answer()).toMatch(/^Cannot be told/);
    expect(await bare.page.getByText(/There is no protector in this line/).count()).toBeGreaterThan(0);
    expect(bare.wrong()).toEqual([]);
  }, 90_000);
});
