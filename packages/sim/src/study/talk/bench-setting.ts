import { describeValue, type ScenarioResult } from "../../scenario/index.ts";
import type { Crowbar, Scenario } from "../../scenario/types.ts";
import { show } from "../../verdict/words.ts";
import type { BenchSetting } from "./bench-line.ts";
import type { BenchPass } from "./bench-pass.ts";
import type { BenchTrip } from "./bench-trip.ts";
import { amperes } from "./meter.ts";
import type { BenchCard } from "./types.ts";

/** Resistance of the dummy load, ohm: about 0.3 A from a 12 V line, so that a meter sees it and nothing burns (common practice, no source). */
const DUMMY = 47;
/** Of that beside a clamp, ohm: it draws so little that a source's limit can leave the clamp next to nothing (common practice, no source). */
const DUMMY_BESIDE_CLAMP = 470;
/** What the limit leaves a clamp at least, A: a usual source's limit is set to 0.01 A. */
const CLAMP_CURRENT = 0.01;
/** By how much a source's limit beside a clamp may be off, A (common practice, no source). */
export const LIMIT_OFF = 0.01;
/** Powers in which such resistors are sold, W (common practice, no source). */
const POWERS = [1, 2, 3, 5, 7, 10, 15, 20, 25, 30, 50, 100, 200, 300] as const;
/** Times the power that it takes (common practice, no source): at its rated power a resistor is too hot to touch. */
const POWER_FACTOR = 2;
/** What a small bench source gives, A (common practice, no source). */
const USUAL_LIMIT = 3;
/** How fast the source is turned up, V/s: a person's hand, and slow beside any sense filter. */
const SLEW = 0.1;
/** How far beyond its trip point the source goes on, V. */
export const BEYOND = 0.3;
/** How far below the lowest trip point it begins at least, V. */
const BELOW = 0.5;
/** Times the latching current (common practice, no source). */
const LATCHING_FACTOR = 3;

/** How the bench source is set, and what it feeds. */
export function settingOf(
  { crowbar, sources }: Scenario,
  { kind, nominal, low }: BenchTrip,
  pass: BenchPass,
): BenchSetting {
  const supplied = sources.flatMap((source) => (source.kind === "supply" ? [source.setVoltage] : []));
  const usual = supplied.length === 0 ? 13.8 : Math.max(...supplied);
  const startVoltage = rounded(Math.min(usual, low - BELOW), 0.1, Math.floor);
  const endVoltage = rounded(Math.max(nominal, pass.high) + BEYOND, 0.1, Math.ceil);
  const common = { startVoltage, endVoltage, slew: SLEW, trip: null };
  if (kind === "clamp") {
    const left = pass.high / DUMMY_BESIDE_CLAMP + CLAMP_CURRENT;
    return { ...common, currentLimit: rounded(left, 0.01, Math.ceil), dummy: DUMMY_BESIDE_CLAMP };
  }
  const needed = Math.max((1.5 * endVoltage) / DUMMY, crowbar === null ? 0 : LATCHING_FACTOR * latching(crowbar));
  return { ...common, currentLimit: rounded(needed, 0.1, Math.ceil), dummy: DUMMY };
}

/** The dummy load with a power that it stands at the highest voltage of the test. */
export function dummyOf({ endVoltage, dummy }: BenchSetting): BenchCard["dummy"] {
  const power = (POWER_FACTOR * endVoltage ** 2) / dummy;
  return { resistance: dummy, power: POWERS.find((each) => each >= power) ?? rounded(power, 100, Math.ceil) };
}

/** A hair of what computers lose does not make it another step. */
function rounded(value: number, step: number, round: (value: number) => number): number {
  return Number((round(Number((value / step).toFixed(9))) * step).toFixed(9));
}

/** The current that an SCR must have reached once; where its sheet tells none, what holds it. */
const latching = ({ latchingCurrent, holdingCurrent }: Crowbar): number => Math.max(latchingCurrent, holdingCurrent);

/** Why the limit is what it is, in sentences. */
export function whyLimit(
  parsed: ScenarioResult,
  { crowbar }: Scenario,
  { kind }: BenchTrip,
  { currentLimit, dummy, endVoltage }: BenchSetting,
): readonly string[] {
  const limit = amperes(currentLimit);
  if (crowbar === null)
    return [
      kind === "clamp"
        ? `${limit}: what ${show(dummy, "resistance")} draw and a little more. The clamp gets no more than the rest: it is made for pulses, not for a steady current. Set it by a meter: the source's own display may be off by more than the ${amperes(LIMIT_OFF)} that the clamp stands beyond it.`
        : `${limit}: enough for the dummy load with half as much again.`,
    ];
  const isLatching = crowbar.latchingCurrent >= crowbar.holdingCurrent;
  const current = show(latching(crowbar), "current");
  const key = isLatching ? "latching current" : "holding current";
  const origin = describeValue(parsed, ["crowbar", key]);
  const from = origin === null ? "" : ` (${origin.mark}: ${origin.source})`;
  const more =
    (1.5 * endVoltage) / dummy > LATCHING_FACTOR * latching(crowbar)
      ? "half as much again as the dummy load draws, and with that "
      : "";
  return [
    ...(currentLimit > USUAL_LIMIT
      ? [`Take a bench source that gives ${limit} for a while; the usual ones end at ${amperes(USUAL_LIMIT)}.`]
      : []),
    `${limit} is ${more}at least three times the SCR's ${key} of ${current}${from}: common practice, no source.`,
    `With less the SCR may fire and not stay on: the voltage comes back, and a good protector looks like a broken one. Cold makes an SCR need more.`,
  ];
}
