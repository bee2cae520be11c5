import { Interval } from "../../packages/sim/src/hybrid/interval.ts";
import type { HybridSystem } from "../../packages/sim/src/hybrid/types.ts";

/** A quantity over time. */
export type Curve = (t: number) => number;

/** A piece through which nothing is seen but curves over time, and how often somebody looked. */
export interface Seen {
  readonly interval: Interval;
  /** What a guard would read at the time observed last. */
  readonly now: () => number;
  readonly asked: { observed: number; probes: number; flows: number };
}

/** An interval from `from` to `to` that shows these probes and flows; all looks are taken unless `unseen`. */
export function pieceOf(
  { probes = [], flows = [] }: { readonly probes?: readonly Curve[]; readonly flows?: readonly Curve[] },
  [from, to]: readonly [number, number],
  unseen = false,
): Seen {
  const asked = { observed: 0, probes: 0, flows: 0 };
  let time = Number.NaN;
  const fill = (out: { [k: number]: number }, curves: readonly Curve[]): void =>
    curves.forEach((curve, k) => {
      out[k] = curve(time);
    });
  const system: Pick<HybridSystem, "size" | "probeCount" | "flowCount" | "observe" | "probes" | "flows"> = {
    size: 1,
    probeCount: probes.length,
    flowCount: flows.length,
    observe: (t) => {
      asked.observed++;
      time = t;
    },
    probes: (out) => {
      asked.probes++;
      fill(out, probes);
    },
    flows: (out) => {
      asked.flows++;
      fill(out, flows);
    },
  };
  const interval = new Interval(system);
  interval.open({ from, to, interpolate: () => {} }, from, to);
  if (!unseen) {
    for (let j = 0; j < 5; j++) interval.look(j);
    interval.integrate();
    interval.bound();
  }
  return { interval, now: () => time, asked };
}
