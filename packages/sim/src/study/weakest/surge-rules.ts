import { pulseI2t } from "../../scenario/surge.ts";
import type { Crowbar, Scenario } from "../../scenario/types.ts";
import { duration, show } from "../../verdict/words.ts";
import { checkOf } from "./check.ts";
import { chargedCapacitors, dumpOf } from "./dump.ts";
import type { Lasting } from "./fault-current.ts";
import type { FusePlace, Held } from "./place.ts";
import { largerScr } from "./scr-rules.ts";
import type { Check } from "./types.ts";

interface Names {
  readonly fuse: string;
  readonly scr: string;
}

/** Longest pulse that the I²t of fuse and SCR speaks of, s: data sheets give it for up to 10 ms; what lasts longer the surge windows judge. */
export const I2T_TIME = 10e-3;

/**
 * I²t in A²s of the arc while a fuse clears: its current falls in a straight line within L·I/(V_arc − V), a triangle's i²t/3; what flows past
 * the fuse goes on.
 *
 * @param inductance of the loop, H
 * @param past current that flows past the fuse, A
 * @returns infinite where the arc's voltage does not exceed the line's: it does not go out by itself
 */
export function arcingI2t(current: number, inductance: number, arcVoltage: number, voltage: number, past = 0): number {
  if (arcVoltage <= voltage) return Number.POSITIVE_INFINITY;
  const time = (inductance * current) / (arcVoltage - voltage);
  return pulseI2t({ shape: "trapezoid", from: current + past, to: past, duration: time });
}

/** What goes through the SCR and not through the fuse while that melts. */
interface Past {
  /** Of other sources, A. */
  readonly current: number;
  /** What it adds to the fuse's own I²t in the SCR, A²s, within the time in which the fuse's current has its melting I²t. */
  readonly i2t: number;
}

/**
 * (i_f + i_p)² = i_f² + i_p² + 2·i_f·i_p, with i_p of the other sources (steady) and of the capacitors that do not stand behind the fuse: their
 * I²t and their charge. A reservoir is charged again by its own source, so it gives no more than i·R_raw of its voltage.
 */
function pastFuse(
  scenario: Scenario,
  place: FusePlace,
  crowbar: Crowbar,
  { fuse, scr, each }: Lasting,
  melting: number,
): Past {
  const current = Math.max(0, scr - fuse);
  const time = melting / fuse ** 2;
  const charge = chargedCapacitors(scenario, place).reduce((sum, { voltage, capacitance, throughFuse, recharged }) => {
    if (throughFuse) return sum;
    const fall = voltage - crowbar.thresholdVoltage;
    return (
      sum + capacitance * (recharged === null ? fall : Math.min(fall, each[recharged.source] * recharged.resistance))
    );
  }, 0);
  const { beside } = dumpOf(scenario, place);
  return { current, i2t: beside + current ** 2 * time + 2 * fuse * (charge + current * time) };
}

/**
 * What the SCR gets until the fuse is open, as the sheets of both parts have it: dump, nominal melting I²t and arcing, and what flows past the
 * fuse meanwhile.
 */
export function surge(
  { fuse: fuseName, scr }: Names,
  { scenario, place, crowbar, fuse }: Held,
  lasting: Lasting,
  { voltage, meltsIn }: { readonly voltage: number; readonly meltsIn: number },
): Check {
  const allowed = crowbar.ratings.i2t;
  const common = { rule: "surge", subject: "fuse and SCR", dimension: "I2t", bound: "at most" } as const;
  const { nominalMeltingI2t: melting } = fuse;
  if (melting === null)
    return checkOf({
      ...common,
      found: Number.POSITIVE_INFINITY,
      allowed: null,
      sentence: `The melting I²t of ${fuseName} is not known, so nobody can say whether ${scr} stands it.`,
    });
  const past = pastFuse(scenario, place, crowbar, lasting, melting);
  const inductance = Math.max(...scenario.sources.map(({ lead }) => lead.inductance));
  const arcing = arcingI2t(lasting.fuse, inductance, fuse.arcVoltage, voltage, past.current);
  if (arcing === Number.POSITIVE_INFINITY)
    return checkOf({
      ...common,
      found: arcing,
      allowed,
      sentence: `The arc in ${fuseName} takes ${show(fuse.arcVoltage, "voltage")}, no more than the ${show(voltage, "voltage")} that may drive it: it does not go out by itself, and ${scr} gets what flows until somebody ends it.`,
    });
  const { throughFuse } = dumpOf(scenario, place);
  const found = throughFuse + melting + past.i2t + arcing;
  const shared = past.current > 0;
  const dumped = shared ? throughFuse : throughFuse + past.i2t;
  const parts = [
    ...(dumped > 0 ? [`${show(dumped, "I2t")} of dump`] : []),
    `${show(melting, "I2t")} of melting`,
    ...(shared ? [`${show(past.i2t, "I2t")} from what flows past the fuse`] : []),
  ].join(", ");
  const all = `${parts} and ${show(arcing, "I2t")} of arcing make ${show(found, "I2t")}`;
  const sentence =
    meltsIn <= I2T_TIME
      ? `${all} until ${fuseName} is open; ${scr} stands ${show(allowed, "I2t")}.`
      : `${all}, as data sheets add them up for a fuse that melts within ${duration(I2T_TIME)}; ${scr} stands ${show(allowed, "I2t")}. Here it takes about ${duration(meltsIn, 2)} and lets more through${found > allowed ? `. That is a rule of coordination, stricter for so slow a fuse than a full run: one would judge the SCR by its surge windows and its junction and may find it whole, but none was made.` : ": the SCR's surge windows judge that."}`;
  return checkOf({ ...common, found, allowed, sentence, mend: largerScr(scr, crowbar, found) });
}

/** The lasting current alone, over every window of the surge rating: the dump before it only adds to that. */
export function surgeTime({ fuse, scr }: Names, crowbar: Crowbar, lasting: Lasting, meltsIn: number | null): Check {
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
