import { describe, expect, test } from "vitest";
import { statusOf, summarise } from "../../../packages/sim/src/study/spread/summary.ts";
import { headline, renderTolerances } from "../../../packages/sim/src/study/spread/text.ts";
import { ABOVE, made, SAFE, type World } from "./made.ts";

/** One value, and how a run ends where it is drawn at its upper end or at its lower one. */
const EITHER = ["crowbar.trip voltage: 14…16 V corners"];
const EVENLY = ["crowbar.trip voltage: 14…16 V"];
const by =
  (low: ReturnType<World>, high: ReturnType<World>, nominal = SAFE): World =>
  ([trip]) =>
    trip === 15 ? nominal : trip === 14 ? low : high;
const BEYOND = { ...ABOVE, outcome: "load beyond what it stands" } as const;
const UNRUN = { outcome: "cannot be run", problem: "the trip voltage lies below the supply's" } as const;

async function told(world: World, samples: number, corners = 0, tolerances = EITHER) {
  const collected = await made(world, tolerances, { samples, corners });
  const summary = summarise(collected);
  const high = collected.samples.outcomes.filter((each) => each !== collected.samples.outcomes[0]).length;
  return { collected, summary, high, text: renderTolerances(summary, 200), status: statusOf(collected) };
}

describe("the answer in a sentence", () => {
  test("none of many: how small the chance must be, not that there is none", async () => {
    const { summary, status } = await told(by(SAFE, SAFE), 100);
    // Wilson's upper end of none in 100 is z²/(100 + z²).
    expect(headline(summary)).toBe(
      "No load came above its maximum in any of 100 samples: the chance of it is below 3.7 % at 95 % confidence.",
    );
    expect(status).toBe(0);
  });

  test("one sample is one sample", async () => {
    const { summary, text } = await told(by(SAFE, SAFE), 1);
    expect(headline(summary)).toContain("No load came above its maximum in any of 1 sample: ");
    expect(text).toContain("Distribution over 1 sample (quantiles)");
  });

  test("all of them", async () => {
    const { summary, status } = await told(by(ABOVE, ABOVE), 100);
    expect(headline(summary)).toBe(
      "A load came above its maximum in 100 of 100 samples: a chance of 100 %, between 96 % and 100 % at 95 % confidence.",
    );
    expect(status).toBe(1);
  });

  test("how many of them are beyond what the load stands", async () => {
    const { summary } = await told(by(ABOVE, BEYOND), 60);
    const beyond = summary.outcomes.find(({ outcome }) => outcome === BEYOND.outcome)?.chance.count;
    expect(beyond).toBeGreaterThan(10);
    expect(headline(summary)).toContain(
      `A load came above its maximum in 60 of 60 samples (${beyond} of them beyond what it stands): `,
    );
  });

  test("none of the samples, but a corner", async () => {
    // Drawn from within, no sample comes to the upper end.
    const world: World = ([trip]) => (trip === 16 ? ABOVE : SAFE);
    const { summary, text, status } = await told(world, 20, 1, ["crowbar.trip voltage: 14…16 V"]);
    expect(headline(summary)).toContain(" At a corner of the values one does, all the same.");
    expect(text).toContain(
      "All 2 corners of crowbar: trip voltage: 1 × load above its maximum, within what it stands, 1 × load safe, tripped and over.",
    );
    expect(text).toContain("Worst corner (number 1): load above its maximum, within what it stands, peak 16 V");
    expect(status).toBe(1);
  });

  test.each([
    [["crowbar.trip voltage: 14…16 V"], "what is worst here lies between the ends of the values."],
    [
      ["crowbar.trip voltage: 14…16 V", "crowbar.sense filter: ±20 %"],
      "values that stay nominal at the corners, or values between their ends, have their part in it. --corners takes in more values.",
    ],
  ])("a sample worse than every corner of one of %j is told as that", async (tolerances, why) => {
    const world: World = ([trip]) => (Math.abs(trip - 15) < 1 && trip !== 15 ? ABOVE : SAFE);
    const { summary, text } = await told(world, 20, 1, tolerances);
    expect(summary.corners.passed).toBe(true);
    expect(text).toContain(`The worst sample is worse than every corner: ${why}`);
    const { text: none } = await told(by(SAFE, ABOVE), 20, 1);
    expect(none).not.toContain("worse than every corner");
    const { summary: without } = await told(world, 20, 0, tolerances);
    expect(without.corners.passed).toBe(false);
  });

  test("one that is worse by what integration leaves is not", async () => {
    const world: World = ([trip]) => ({ ...SAFE, share: trip === 15 ? 0.9 : 0.9 * (1 + 1e-9 * Math.abs(16 - trip)) });
    const { summary, text } = await told(world, 20, 1, EVENLY);
    expect(summary.corners.passed).toBe(false);
    expect(text).not.toContain("worse than every corner");
  });

  test("a corner without a verdict is no sample", async () => {
    // Drawn evenly, no sample comes to an end.
    const { summary, text } = await told(by(SAFE, SAFE, SAFE), 20, 1, EVENLY);
    expect(summary.broken).toEqual([]);
    expect(text).not.toContain("Without a verdict");
    const { summary: ended, text: said } = await told(([trip]) => (trip === 16 ? UNRUN : SAFE), 20, 1, EVENLY);
    expect(ended.broken.map(({ of, index }) => [of, index])).toEqual([["corner", 1]]);
    expect(said).toContain("Without a verdict\n  - corner 1, cannot be run:");
  });

  test("without corners nothing is said of them, though the nominal run is bad", async () => {
    const { summary, text } = await told(by(SAFE, SAFE, ABOVE), 20);
    expect(headline(summary)).not.toContain("corner");
    expect(text).not.toMatch(/corners? (of|\(number)|All \d+ corners/);
    expect(text).toContain("With its nominal values: load above its maximum, within what it stands, peak 16 V");
  });

  test.each([
    [1, "1 of all 1 was too close to call."],
    [2, "2 of all 2 were too close to call."],
  ])("%d too close to call", async (samples, said) => {
    const close = { ...SAFE, close: true };
    const { summary, status } = await told(by(close, close), samples);
    expect(headline(summary)).toContain(said);
    expect(status).toBe(1);
  });

  test("samples without a verdict are told, and where to read why", async () => {
    const { collected, summary, status } = await told(by(SAFE, UNRUN), 40);
    const without = collected.samples.broken.length;
    expect(without).toBeGreaterThan(5);
    expect(headline(summary)).toContain(`No load came above its maximum in any of ${40 - without} samples: `);
    expect(headline(summary)).toMatch(new RegExp(` ${without} gave no verdict, see below\\.$`));
    expect(status).toBe(3);
  });

  test("no verdict at all is no answer", async () => {
    const none = { outcome: "no verdict", problem: "the steps became too short" } as const;
    const { summary, text, status } = await told(by(none, none), 3, 1);
    expect(headline(summary)).toBe("No answer: none of the 3 samples gave a verdict.");
    expect(text).toContain("  - sample 0, no verdict: the steps became too short\n");
    expect(text).toContain("Without a verdict; --at INDEX writes each sample as a scenario\n");
    expect(text).not.toContain("Worst sample");
    expect(text).not.toContain("Worst corner");
    expect(text).toContain("All 2 corners of crowbar: trip voltage: 2 × no verdict.");
    expect(text).not.toContain("peak at the load");
    expect(status).toBe(3);
  });

  test("a rating passed by the SCR alone has an exit status of its own", async () => {
    const hot = { ...SAFE, outcome: "load safe, SCR beyond its rating" } as const;
    expect((await told(by(SAFE, hot), 20)).status).toBe(4);
  });
});

test("of many samples without a verdict five are told, then how many more there are", async () => {
  const { text } = await told(by(UNRUN, UNRUN), 8);
  expect(text.match(/- sample \d+, cannot be run: the trip voltage lies below the supply's/g)).toHaveLength(5);
  expect(text).toContain("  - and 3 more, in the JSON\n");
});

describe("figures", () => {
  test("where nothing tripped there is no time, and nothing that goes with it", async () => {
    const untripped = { outcome: "load safe, nothing acted", peak: 14, share: 0.9 } as const;
    const { text } = await told(by(untripped, { ...untripped, peak: 15, share: 0.95 }, untripped), 30);
    expect(text).toContain("With its nominal values: load safe, nothing acted, peak 14 V.");
    expect(text).not.toContain("time to the trip   ");
    expect(text).toMatch(/Worst sample \(number \d+\): load safe, nothing acted, peak 15 V, no trip\./);
    // A peak that follows the value, and nothing that could follow it in time.
    expect(text).toMatch(/crowbar: trip voltage {2}14…16 V corners\s+\+1\.00\s+– {2}/);
    expect(text).toContain("14 V: 14 V, 16 V: 15 V");
  });

  test("two limits of chance where fewer samples tripped than have a peak", async () => {
    const never = { outcome: "load safe, nothing acted", peak: 15, share: 0.95 } as const;
    const world: World = ([trip, filter]) => (trip < 15 ? { ...SAFE, peak: filter, trip: filter * 1e-6 } : never);
    const { text, collected } = await told(world, 200, 0, [
      "crowbar.trip voltage: 14…16 V",
      "crowbar.sense filter: ±20 %",
    ]);
    const tripped = collected.samples.trip.filter(Number.isFinite).length;
    const limit = (count: number) => (1.96 / Math.sqrt(count - 1)).toFixed(2);
    expect(limit(200)).not.toBe(limit(tripped));
    expect(text.replace(/\s+/g, " ")).toContain(
      `Nearer to 0 than ${limit(200)} (peak) or ${limit(tripped)} (trip time) (marked ?) it may be`,
    );
  });

  test("a run without a figure leaves a dash where its peak would stand", async () => {
    const { text } = await told(by(UNRUN, SAFE), 20);
    expect(text).toContain("14 V: –, 16 V: 14 V");
  });

  test("nominal values without a verdict have no peak to tell of, nor has a worst sample without one", async () => {
    const { text } = await told(by(SAFE, SAFE, { outcome: "no verdict" }), 20);
    expect(text).toContain("With its nominal values: no verdict.\n");
    const { peak: _, ...unseen } = ABOVE;
    const { text: worst } = await told(by(unseen, unseen), 20);
    expect(worst).toMatch(
      /Worst sample \(number \d+\): load above its maximum, within what it stands, trip after 4 ms\./,
    );
  });

  test("small chances keep two figures, large ones four", async () => {
    // One in 1000 samples is endangered: the first of them.
    let drawn = -3;
    const { text } = await told(() => (drawn++ === 0 ? ABOVE : SAFE), 1000);
    expect(text).toContain("a chance of 0.1 %, between 0.018 % and 0.56 % at 95 % confidence");
    expect(text).toMatch(/load safe, tripped and over\s+999\s+99\.9 %\s+99\.44 % to 99\.98 %/);
  });
});

test("equally telling values stand in the order of their names", async () => {
  const { summary } = await told(() => SAFE, 10, 0, [
    "main fuse.cold resistance: ±10 %",
    "crowbar.sense filter: ±20 %",
    "crowbar.trip voltage: ±2 %",
  ]);
  expect(summary.influences.map(({ path, withPeak }) => [path, withPeak])).toEqual([
    ["crowbar.sense filter", null],
    ["crowbar.trip voltage", null],
    ["main fuse.cold resistance", null],
  ]);
});
