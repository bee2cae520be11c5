import { expect } from "vitest";
import { demoCaptures } from "../../../packages/sim/scripts/demo-captures.ts";
import { type Capture, type Fit, fitScenario, fitStatus, valueSentence } from "../../../packages/sim/src/index.ts";
import { BRIEFLY, captured, hiccupInstrument, scenarioWith } from "./bench.ts";

/* What is claimed of any capture: of few of them every day, of more in test/deep. */

const OFF = "sources[0].limit.off time";
const TRIP = "crowbar.trip voltage";
const hiccup = (values: Readonly<Record<string, string>>): string => scenarioWith("02-hiccup-supply", values);

async function fitted(text: string, capture: Capture, free: readonly string[]): Promise<Fit> {
  const answer = await fitScenario(text, "hut.yaml", capture, { free, channels: [] });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

/** A trip voltage that lies on its lower bound is found; in how many captures the interval reaches to the bound, so that none is told to want beyond. */
export async function truthOnBound(seeds: readonly number[]): Promise<number> {
  let inside = 0;
  for (const seed of seeds) {
    const capture = captured(hiccup({ [OFF]: "331 ms" }), hiccupInstrument(seed));
    const { values } = await fitted(hiccup({}), capture, [OFF, `${TRIP} = 15…16 V`]);
    expect(values[1]!.state).toBe("found");
    if (values[1]!.from === 15) inside++;
  }
  return inside;
}

/** Held values that are wrong, and what they are called. */
export const HELD_WRONG = [
  [{ "sources[0].limit.detection time": "3.3 ms" }, "station supply: limit, detection time, held at 3 ms"],
  [{ "loads[0].input capacitance": "2.6 mF" }, "relay radio: input capacitance, held at 2.2 mF"],
] as const;

export async function heldWrongIsNamed(change: Readonly<Record<string, string>>, named: string, seed: number) {
  const found = await fitted(hiccup({}), captured(hiccup(change), hiccupInstrument(seed)), [OFF, TRIP]);
  expect(fitStatus(found)).toBe(1);
  expect(found.misfits.join(" ")).toContain(named);
}

/** Seen by an instrument of this bandwidth, Hz. */
export const seenThrough = (bandwidth: number, seed: number): Promise<Fit> =>
  fitted(hiccup({}), captured(hiccup({}), hiccupInstrument(seed, { bandwidth })), [OFF, TRIP]);

export async function lagIsTold(seed: number): Promise<void> {
  const found = await seenThrough(1000, seed);
  expect(fitStatus(found)).toBe(1);
  expect(found.misfits.join(" ")).toMatch(/may lag: what is left is like what a lag of about 1\d0 µs would leave/);
}

export async function noLagIsTold(seed: number): Promise<void> {
  expect((await seenThrough(2e5, seed)).misfits).toEqual([]);
}

/** A trip 2.3 s after the fault, in a capture of 1 s: in how many the interval holds it. */
export async function longAfterTheFault(seeds: readonly number[]): Promise<number> {
  const name = "06-voltage-turned-up-slowly";
  let inside = 0;
  for (const seed of seeds) {
    const instrument = hiccupInstrument(seed, { from: 3.3, samples: 2000, interval: 0.5e-3 });
    const capture = captured(scenarioWith(name, { [TRIP]: "15.1 V" }), instrument);
    const found = await fitted(scenarioWith(name, {}), capture, [TRIP]);
    const [trip] = found.values;
    expect(found).toMatchObject({ isAnother: false, isConverged: true, misfits: [] });
    expect(fitStatus(found)).toBe(0);
    // The ramp's level is known to a few millivolts, by noise over √600 and by the zeros.
    expect(trip!.error).toBeGreaterThan(0.002);
    expect(trip!.error).toBeLessThan(0.005);
    expect(Math.abs(found.shift.value - 3.3)).toBeLessThan(2 * found.shift.plusMinus);
    if (trip!.from < 15.1 && trip!.to > 15.1) inside++;
  }
  return inside;
}

/** Bounds that leave out the truth of the value with this number: it is found at one of them, and the line is no other. */
export async function atBound(free: readonly string[], number: number): Promise<void> {
  const real = hiccup({ [OFF]: "331 ms", [TRIP]: "15.2 V" });
  const found = await fitted(hiccup({}), captured(real, hiccupInstrument(1, BRIEFLY)), free);
  expect(found.isAnother).toBe(false);
  expect(found.values[number]!.state).toBe("at bound");
  expect(valueSentence(found.values[number]!)).toContain("at a bound of");
  expect(found.untold.join(" ")).toContain("and the capture would have it beyond");
}

/** Held values that are wrong, and whether what they leave comes with the events; the first is tried every day. */
export const LEFT_BY_HELD: readonly (readonly [path: string, text: string, isAtEvents: boolean])[] = [
  ["sources[0].limit.detection time", "4.5 ms", true],
  ["sources[0].limit.ramp time", "22 ms", true],
  ["loads[0].input capacitance", "4 mF", false],
];

export async function leavesNoRipple(path: string, text: string, isAtEvents: boolean): Promise<void> {
  const capture = captured(hiccup({ [OFF]: "310 ms", [path]: text }), hiccupInstrument(5, BRIEFLY));
  const found = await fitted(hiccup({}), capture, [OFF, TRIP]);
  expect(fitStatus(found)).toBe(1);
  expect(found.channels.map(({ misfit }) => misfit.ripple)).toEqual([null, null]);
  const told = found.misfits.join(" ");
  expect(told).not.toMatch(/swings|ripples/);
  expect(told).toContain("a value that was not freed may differ");
  expect(told.includes("It comes with the events")).toBe(isAtEvents);
}

/** The shipped hiccup line fitted to a capture. */
export const fittedHiccup = (capture: Capture, free: readonly string[]): Promise<Fit> =>
  fitted(hiccup({}), capture, free);

/** A shorted pass transistor seen by the instrument of its shipped capture, two values sought in it, and how often the fit says that the model lacks something. */
export async function shortedSeen(seed: number, more: Readonly<Record<string, string>>) {
  const name = "01-shorted-pass-transistor";
  const capture = captured(scenarioWith(name, { [TRIP]: "15.2 V", ...more }), { ...demoCaptures[0]!.instrument, seed });
  const options = { free: [TRIP, "sources[0].fault.pass resistance"], channels: ["crowbar = crowbar_A"] };
  const found = await fitScenario(scenarioWith(name, {}), "hut.yaml", capture, options);
  if (found.kind === "refused") throw new Error("refused");
  for (const { from, to } of found.values) expect(from).toBeLessThan(to);
  return { found, told: found.misfits.filter((sentence) => sentence.includes("he model lacks something")).length };
}

/** Inductances that the line has and the model does not. */
export const INDUCTANCES = [
  ["0.6 µH in the SCR's branch", { "crowbar.inductance": "0.6 uH" }],
  ["6 µH in the radio's lead", { "loads[0].lead": "{resistance: 8 mohm, inductance: 6 uH, area: 3 mm2}" }],
] as const;

export async function inductanceIsTold(_where: string, more: Readonly<Record<string, string>>): Promise<void> {
  const { found, told } = await shortedSeen(3, more);
  expect(found.channels.map(({ misfit }) => misfit.isBeyondNoise)).toEqual([true, true]);
  expect([fitStatus(found), told]).toEqual([1, 2]);
}
