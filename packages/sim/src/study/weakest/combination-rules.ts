import { meltingCurrentAt } from "../../model/values.ts";
import { meltingTime } from "../../scenario/parts/fuse-melting.ts";
import { pulseI2t } from "../../scenario/surge.ts";
import type { Crowbar, Fuse, Scenario } from "../../scenario/types.ts";
import { duration, show } from "../../verdict/words.ts";
import { checkOf } from "./check.ts";
import { dumpOf, type Lasting } from "./fault-current.ts";
import { heatSinkNeeded, onStatePower } from "./heat-sink.ts";
import { largerScr } from "./scr-rules.ts";
import type { Check } from "./types.ts";

/** What is smaller is no heat sink that one bolts an SCR to, K/W (assumed: a large finned profile in still air). */
const SMALLEST_HEAT_SINK = 0.3;

/**
 * Whether and when the lasting current melts a fuse, s; null where it never does, or where the limiter stops before.
 *
 * @param ambient °C
 */
function blownAfter(fuse: Fuse, lasting: Lasting, ambient: number): number | null {
  const minimumMeltingCurrent = meltingCurrentAt(fuse, ambient);
  const time = meltingTime({ ...fuse, minimumMeltingCurrent }, lasting.fuse);
  if (!Number.isFinite(time)) return null;
  return lasting.detectionTime !== null && time > lasting.detectionTime ? null : time;
}

/**
 * I²t in A²s of the arc while a fuse clears: the current falls in a straight line within L·I/(V_arc − V), a triangle's i²t/3.
 *
 * @param inductance of the loop, H
 * @returns infinite where the arc's voltage does not exceed the line's: it does not go out by itself
 */
export function arcingI2t(current: number, inductance: number, arcVoltage: number, voltage: number): number {
  if (arcVoltage <= voltage) return Number.POSITIVE_INFINITY;
  return pulseI2t({ shape: "triangle", peak: current, duration: (inductance * current) / (arcVoltage - voltage) });
}

/** Of one combination what decides how a fault ends in it. */
export interface Coordination {
  readonly checks: readonly Check[];
  readonly meltsIn: number | null;
  /** I²t that the fuse lets through, A²s; null where it is not blown. */
  readonly letThrough: { readonly i2t: number; readonly time: number } | null;
  readonly heatSink: number | null;
}

/** Fuse and SCR beside each other, on a line that holds both. */
export function coordinate(
  names: { readonly fuse: string; readonly scr: string },
  scenario: Scenario,
  crowbar: Crowbar,
  fuse: Fuse,
  lasting: Lasting,
  voltage: number,
): Coordination {
  const meltsIn = blownAfter(fuse, lasting, scenario.ambient);
  const dump = dumpOf(scenario);
  const checks: Check[] = [];
  let letThrough: Coordination["letThrough"] = null;
  if (meltsIn !== null) {
    const inductance = Math.max(...scenario.sources.map(({ lead }) => lead.inductance));
    const arc = arcingI2t(lasting.fuse, inductance, fuse.arcVoltage, voltage);
    checks.push(surge(names, crowbar, fuse, dump.throughFuse + dump.beside, Number.isFinite(arc) ? arc : 0));
    letThrough = { i2t: dump.throughFuse + lasting.fuse ** 2 * meltsIn, time: meltsIn };
  }
  checks.push(surgeTime(names, crowbar, lasting, meltsIn));
  const held = heldOn(names, scenario, crowbar, fuse, lasting, meltsIn);
  if (held !== null) checks.push(held.check);
  return { checks, meltsIn, letThrough, heatSink: held?.heatSink ?? null };
}

function surge(
  { fuse: fuseName, scr }: { readonly fuse: string; readonly scr: string },
  crowbar: Crowbar,
  { nominalMeltingI2t }: Fuse,
  dumped: number,
  arcing: number,
): Check {
  const allowed = crowbar.ratings.i2t;
  const melting = nominalMeltingI2t ?? Number.POSITIVE_INFINITY;
  const found = dumped + melting + arcing;
  const parts = `${show(dumped, "I2t")} of dump, ${show(melting, "I2t")} of melting and ${show(arcing, "I2t")} of arcing`;
  const sentence =
    nominalMeltingI2t === null
      ? `The melting I²t of ${fuseName} is not known, so nobody can say whether ${scr} stands it.`
      : `${capitalized(parts)} make ${show(found, "I2t")} until ${fuseName} is open; ${scr} stands ${show(allowed, "I2t")}.`;
  return checkOf({
    rule: "surge",
    subject: "fuse and SCR",
    dimension: "I2t",
    found,
    allowed: nominalMeltingI2t === null ? null : allowed,
    bound: "at most",
    sentence,
    mend: nominalMeltingI2t === null ? null : largerScr(scr, crowbar, found),
  });
}

const capitalized = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The lasting current alone, over every window of the surge rating: the dump before it only adds to that. */
function surgeTime(
  { fuse, scr }: { readonly fuse: string; readonly scr: string },
  crowbar: Crowbar,
  lasting: Lasting,
  meltsIn: number | null,
): Check {
  const flows = meltsIn ?? lasting.detectionTime ?? Number.POSITIVE_INFINITY;
  const current = lasting.scrAtLeast;
  const windows = crowbar.ratings.surgeWindows.map(({ duration: span, rms }) => {
    const found = current * Math.sqrt(Math.min(span, flows) / span);
    return { span, rms, found, share: found / rms };
  });
  const [worst] = windows.sort((a, b) => b.share - a.share);
  const common = { rule: "surge time", subject: "fuse and SCR", dimension: "current", bound: "at most" } as const;
  const until = meltsIn === null ? "on and on" : `for about ${duration(meltsIn, 2)} until ${fuse} melts`;
  const carries = `${scr} carries at least ${show(current, "current")} ${until}`;
  if (worst === undefined)
    return checkOf({ ...common, found: current, allowed: null, sentence: `${carries}; no surge rating is known.` });
  const rms =
    worst.found < 0.999 * current ? `, that is ${show(worst.found, "current")} RMS over ${duration(worst.span)}` : "";
  return checkOf({
    ...common,
    found: worst.found,
    allowed: worst.rms,
    sentence: `${carries}${rms}; over ${duration(worst.span)} it stands ${show(worst.rms, "current")}.`,
    mend: largerScr(scr, crowbar, crowbar.ratings.i2t * worst.share ** 2),
  });
}

function heldOn(
  { fuse: fuseName, scr }: { readonly fuse: string; readonly scr: string },
  scenario: Scenario,
  crowbar: Crowbar,
  fuse: Fuse,
  lasting: Lasting,
  meltsIn: number | null,
): { readonly check: Check; readonly heatSink: number } | null {
  if (meltsIn !== null || lasting.style === "ends" || !(lasting.scr > 0)) return null;
  const { ambient } = scenario;
  const limit = crowbar.ratings.junctionTemperature;
  const junctionToCase = crowbar.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
  const power = onStatePower(crowbar, lasting.scr, lasting.onShare);
  const needed = heatSinkNeeded({ power, limit, ambient, junctionToCase });
  const most = (limit - ambient) / (junctionToCase + SMALLEST_HEAT_SINK);
  const { thresholdVoltage: v, slopeResistance: r } = crowbar;
  const bearable = (Math.sqrt(v ** 2 + 4 * r * (most / lasting.onShare)) - v) / (2 * r);
  const melts = show(meltingCurrentAt(fuse, ambient), "current");
  const flows =
    lasting.style === "pulses"
      ? `The supply gives ${show(lasting.scr, "current")} for ${show(lasting.onShare, "ratio")} of the time, in pulses too short to melt ${fuseName}`
      : `The supply gives ${show(lasting.scr, "current")} for good, and ${fuseName} melts from ${melts} on`;
  const sink =
    needed > 0
      ? `a heat sink of at most ${show(needed, "thermal resistance", 2)} keeps its junction at ${show(limit, "temperature")}`
      : `no heat sink keeps its junction at ${show(limit, "temperature")}`;
  const check = checkOf({
    rule: "heat sink",
    subject: "fuse and SCR",
    dimension: "thermal resistance",
    found: needed,
    allowed: SMALLEST_HEAT_SINK,
    bound: "at least",
    sentence: `${flows}: ${scr} is held on with ${show(power, "power")}, and ${sink}${needed > 0 && needed < SMALLEST_HEAT_SINK ? `, less than the ${show(SMALLEST_HEAT_SINK, "thermal resistance")} of a large one` : ""}.`,
    mend: {
      words: `a supply that shuts itself off, or gives no more than ${show(bearable, "current", 2)} for good`,
      changes: [],
    },
  });
  return { check, heatSink: needed };
}
