import type { LineCurve } from "./curve.ts";

/** Grids of lags and of times behind an event, in samples; the first is much finer near 0, where all of it happens. */
const LAGS = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.7, 1];
const NODES = 60;
/** From so many samples behind an event on a lag is a delay. */
const WINDOW = 3;
/** An instrument that lags by more than so many samples is beyond what is told here. */
export const MOST_LAG = 1;

/** What a curve of straight lines becomes behind a lag of first order, τ·dy/dt + y = x: exact in each of its lines. It begins settled. */
export function lagged({ time, values }: Pick<LineCurve, "time" | "values">, tau: number): (t: number) => number {
  const left = new Float64Array(time.length);
  const slopeOf = (i: number): number =>
    time[i + 1] > time[i] ? (values[i + 1] - values[i]) / (time[i + 1] - time[i]) : 0;
  // What is left of it to settle at the beginning of each line: it dies away, the delay of the slope stays.
  for (let i = 0; i + 1 < time.length; i++) {
    const delay = slopeOf(i) * tau;
    const settled = (left[i] + delay) * Math.exp(-(time[i + 1] - time[i]) / tau) - delay;
    left[i + 1] = time[i + 1] > time[i] ? settled : left[i] + values[i] - values[i + 1];
  }
  let place = 0;
  return (t) => {
    if (t <= time[0]) return values[0];
    if (time[place] > t) place = 0;
    while (place + 2 < time.length && time[place + 1] <= t) place++;
    const since = t - time[place];
    const slope = slopeOf(place);
    return values[place] + slope * (since - tau) + (left[place] + slope * tau) * Math.exp(-since / tau);
  };
}

/** By how much an instrument that lags shows something else than the run, behind each of its events. */
export class LagTable {
  private readonly tables: readonly Float64Array[];

  constructor(
    lines: readonly LineCurve[],
    private readonly knots: Float64Array,
    private readonly step: number,
  ) {
    this.tables = lines.map((line) => {
      const table = new Float64Array(knots.length * LAGS.length * (NODES + 1));
      for (const [l, lag] of LAGS.entries()) {
        if (lag === 0) continue;
        const shown = lagged(line, lag * step);
        for (let j = 0; j < knots.length; j++)
          for (let n = 0; n <= NODES; n++) {
            const t = knots[j] + this.since(n);
            // At the event itself the run has stepped already, what lags has not.
            table[(j * LAGS.length + l) * (NODES + 1) + n] = shown(t) - line.at(t);
          }
      }
      return table;
    });
  }

  /**
   * @param segment the last event that is not after the instant
   * @param since how long it was before that, s
   * @param slope of the run there, V/s or A/s: far behind an event a lag is a delay
   */
  at(channel: number, segment: number, since: number, slope: number, tau: number): number {
    if (tau <= 0) return 0;
    if (segment < 0 || segment >= this.knots.length || since >= WINDOW * this.step) return -tau * slope;
    const lag = Math.min(LAGS[LAGS.length - 1], tau / this.step);
    let l = 0;
    while (l + 2 < LAGS.length && LAGS[l + 1] <= lag) l++;
    const ofLag = (lag - LAGS[l]) / (LAGS[l + 1] - LAGS[l]);
    const place = NODES * Math.sqrt(Math.max(0, since) / (WINDOW * this.step));
    const n = Math.min(NODES - 1, Math.floor(place));
    const between = (row: number): number => {
      const at = (segment * LAGS.length + row) * (NODES + 1) + n;
      const table = this.tables[channel];
      return table[at] + (place - n) * (table[at + 1] - table[at]);
    };
    return between(l) + ofLag * (between(l + 1) - between(l));
  }

  private since(n: number): number {
    return WINDOW * this.step * (n / NODES) ** 2;
  }
}
