import { Interval, type Observable } from "../../packages/sim/src/hybrid/interval.ts";

/** A quantity over time. */
export type Curve = (t: number) => number;

/** A piece through which nothing is seen but curves over time, and how often somebody looked. */
export interface Seen {
  readonly interval: Interval;
  /** What a guard would read at the time observed last. */
  readonly now: () => number;
  readonly asked: { observed: number; probes: number; flows: number };
}

/** What is seen over time. */
export interface Curves {
  readonly probes?: readonly Curve[];
  readonly flows?: readonly Curve[];
}

/** A system through which nothing is seen but these curves. */
export interface Sight extends Omit<Seen, "interval"> {
  readonly system: Observable;
  /** A piece of it from `from` to `to`; all looks are taken unless `unseen`. */
  piece(from: number, to: number, unseen?: boolean): Interval;
}

export function sightOf({ probes = [], flows = [] }: Curves): Sight {
  const asked = { observed: 0, probes: 0, flows: 0 };
  let time = Number.NaN;
  const fill = (out: { [k: number]: number }, curves: readonly Curve[]): void =>
    curves.forEach((curve, k) => {
      out[k] = curve(time);
    });
  const system: Observable = {
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
  const piece = (from: number, to: number, unseen = false): Interval => {
    const interval = new Interval(system);
    interval.open({ from, to, interpolate: () => {} }, from, to);
    if (!unseen) {
      for (let j = 0; j < 5; j++) interval.look(j);
      interval.integrate();
      interval.bound();
    }
    return interval;
  };
  return { system, piece, now: () => time, asked };
}

/** An interval from `from` to `to` that shows these probes and flows; all looks are taken unless `unseen`. */
export function pieceOf(curves: Curves, [from, to]: readonly [number, number], unseen = false): Seen {
  const { piece, now, asked } = sightOf(curves);
  return { interval: piece(from, to, unseen), now, asked };
}
