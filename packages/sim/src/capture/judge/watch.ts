import { Interval } from "../../hybrid/interval.ts";
import { ExcursionWatch, PeakWatch } from "../../hybrid/watch.ts";
import type { Excursion, Peak } from "../../trace/types.ts";
import type { Curve } from "./curve.ts";

/** A level to watch: above it with `sign` 1, below it with −1. */
export interface Level {
  readonly level: number;
  readonly sign: 1 | -1;
}

export interface Watched {
  readonly highest: Peak;
  readonly lowest: Peak;
  /** One a level, with how often it was passed. */
  readonly excursions: readonly (Excursion & { readonly times: number })[];
}

/** Between two samples a capture is a straight line; the watches of simulated runs look at it as at a step of one state. */
class Line {
  v0 = 0;
  slope = 0;
  private seen = 0;
  readonly interval: Interval;
  private readonly step: { from: number; to: number; interpolate(t: number, out: number[]): void };

  constructor() {
    this.interval = new Interval({
      size: 1,
      probeCount: 1,
      flowCount: 0,
      observe: (_, state) => {
        this.seen = state[0];
      },
      probes: (out) => {
        out[0] = this.seen;
      },
      flows: () => {},
    });
    this.step = {
      from: 0,
      to: 0,
      interpolate: (t, out) => {
        out[0] = this.v0 + t * this.slope;
      },
    };
  }

  set(length: number, v0: number, v1: number): Interval {
    const { interval, step } = this;
    this.v0 = v0;
    this.slope = (v1 - v0) / length;
    step.to = length;
    interval.open(step, 0, length);
    const { looks, times, low, high } = interval;
    looks[0][0] = v0;
    for (let j = 1; j < 4; j++) looks[j][0] = v0 + times[j] * this.slope;
    looks[4][0] = v1;
    low[0] = Math.min(v0, v1);
    high[0] = Math.max(v0, v1);
    return interval;
  }
}

/** Extremes and times beyond levels, found by the watches that a simulated run has. */
export function watchCurve({ time, values, pieces }: Curve, levels: readonly Level[]): Watched {
  const highest = new PeakWatch(0, 1);
  const lowest = new PeakWatch(0, -1);
  const sums = levels.map(({ level }) => ({ level, total: 0, longest: 0, area: 0, times: 0 }));
  const line = new Line();
  const probe = [0];
  const least = levels.filter(({ sign }) => sign === 1).reduce((min, { level }) => Math.min(min, level), Infinity);
  const most = levels.filter(({ sign }) => sign === -1).reduce((max, { level }) => Math.max(max, level), -Infinity);
  for (const [first, end] of pieces) {
    const watches = levels.map(({ level, sign }, index) => {
      const watch = new ExcursionWatch(0, level, sign);
      watch.onLeave = () => {
        sums[index].times++;
      };
      return watch;
    });
    const touch = (i: number): void => {
      probe[0] = values[i];
      for (const watch of watches) watch.touch(probe);
    };
    touch(first);
    for (let i = first; i < end; i++) {
      const v1 = values[i];
      probe[0] = v1;
      highest.touch(probe, time[i]);
      lowest.touch(probe, time[i]);
      if (i === first) continue;
      const v0 = values[i - 1];
      // Far from every level nothing can begin or end.
      if (v0 < least && v1 < least && v0 > most && v1 > most) continue;
      const length = time[i] - time[i - 1];
      if (!(length > 0)) {
        touch(i);
        continue;
      }
      const interval = line.set(length, v0, v1);
      for (const watch of watches) watch.absorb(interval);
    }
    for (const [index, { total, longest, area }] of watches.entries()) {
      const sum = sums[index];
      sum.total += total;
      sum.area += area;
      sum.longest = Math.max(sum.longest, longest);
    }
  }
  return {
    highest: { value: highest.value, time: highest.time },
    lowest: { value: -lowest.value, time: lowest.time },
    excursions: sums,
  };
}
