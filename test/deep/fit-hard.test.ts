import { describe, expect, test } from "vitest";
import { BRIEFLY, captured, hiccupInstrument } from "../study/fit/bench.ts";
import {
  atBound,
  fittedHiccup,
  INDUCTANCES,
  inductanceIsTold,
  LEFT_BY_HELD,
  leavesNoRipple,
} from "../study/fit/claims.ts";
import { FACTORS, FAR_STARTS, foundAllTheSame, scaledIsAnother } from "../study/fit/far-starts.ts";
import { realLine } from "../study/fit/four-values.ts";
import { LOGGED, loggedEvery, quietIsTold, tooShortIsAnother } from "../study/fit/odd-captures.ts";

const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";
const TRIP = "crowbar.trip voltage";

test.each(FAR_STARTS.slice(1))("a start far from the truth, %s: found all the same", foundAllTheSame);

test.each(FACTORS.slice(1))("values times %f: no value, no verdict, and what may be wrong", scaledIsAnother);

test("bounds that leave out the truth, an off time by 3 %: at a bound, and no other line", () =>
  atBound([`${OFF} = 200…321 ms`, TRIP], 0));

test("bounds that leave out the truth, a trip voltage by 1 %: at a bound, and no other line", () =>
  atBound([OFF, `${TRIP} = 14…15.05 V`], 1));

test.each(LEFT_BY_HELD)("what a wrong value that is held leaves is no ripple: %s of %s", leavesNoRipple);

test.each(INDUCTANCES.slice(1))("what the model lacks is told, an inductance: %s", inductanceIsTold);

test.each([0, 13.6])("noise about %s V is called neither another line nor a success", quietIsTold);

test("times a thousand times too short: another line, with the reason", tooShortIsAnother);

test("a logger: where each round has its samples the intervals hold the truth", async () => {
  const found = await loggedEvery(0.004);
  if (found.kind === "refused") throw new Error(found.issues[0]!.message);
  expect(found.misfits).toEqual([]);
  for (const [k, { from, to }] of found.values.entries()) {
    expect(from).toBeLessThan(LOGGED[k]!);
    expect(to).toBeGreaterThan(LOGGED[k]!);
  }
});

describe("a hiccup capture with a known truth", () => {
  test("what makes no difference is told, and left where it was", async () => {
    const found = await fittedHiccup(captured(realLine, hiccupInstrument(5, BRIEFLY)), [
      OFF,
      TRIP,
      RAMP,
      "main fuse.melting I2t",
    ]);
    const fuse = found.values[3]!;
    expect(fuse).toMatchObject({ state: "untold", value: fuse.nominal });
    expect(found.untold[0]).toMatch(/^This capture says nothing about main fuse: melting I2t/);
    expect(found.untold.join(" ")).toContain("melts: it stays whole");
    expect(found.scenario).not.toContain("melting I2t:");
  }, 120_000);
  test("a slow drift", async () => {
    const found = await fittedHiccup(
      captured(realLine, hiccupInstrument(7, BRIEFLY), (t) => 0.6 * t * t),
      [OFF, RAMP, TRIP],
    );
    expect(found.channels.some(({ misfit }) => misfit.isBeyondNoise)).toBe(true);
    expect(found.misfits[0]).toContain("times what noise and steps explain");
  }, 120_000);
});
