/**
 * An instrument that never was: it takes a simulated run and shows what an 8-bit recorder of limited bandwidth, with noise, offset and a channel that lags,
 * would have written of it. Captures made by it have a known truth, and say that they are synthetic.
 */
import type { Trace } from "../src/trace/types.ts";

export interface InstrumentChannel {
  /** Column of the trace. */
  readonly column: string;
  readonly name: string;
  readonly unit: "V" | "A";
  /** Lowest and highest value that it shows, V or A. */
  readonly range: readonly [low: number, high: number];
  /** Standard deviation of its noise, V or A, and what it shows for nothing. */
  readonly noise: number;
  readonly offset: number;
  /** How much later it shows what happens, s. */
  readonly skew: number;
}

export interface Instrument {
  /** First sample and interval, s of the run; number of samples. */
  readonly from: number;
  readonly interval: number;
  readonly samples: number;
  /** −3 dB, Hz. */
  readonly bandwidth: number;
  readonly bits: number;
  readonly seed: number;
  readonly channels: readonly InstrumentChannel[];
}

export interface Recorded {
  /** s since the first sample. */
  readonly time: Float64Array;
  /** As shown, V or A, one array a channel. */
  readonly values: readonly Float64Array[];
}

/** What the instrument shows of a run. */
export function record(trace: Trace, instrument: Instrument): Recorded {
  const { from, interval, samples, bandwidth, bits, seed, channels } = instrument;
  const gauss = normals(seed);
  const values = channels.map(({ column, range: [low, high], noise, offset, skew }) => {
    const found = trace.columns.find(({ name }) => name === column);
    if (found === undefined) throw new Error(`the run has no column ${column}`);
    const seen = lowPass(trace.time, found.values, { from: from - skew, interval, samples, bandwidth });
    const step = (high - low) / (2 ** bits - 1);
    return seen.map((value) => {
      const code = Math.round((value + offset + noise * gauss() - low) / step);
      return low + step * Math.min(2 ** bits - 1, Math.max(0, code));
    });
  });
  return { time: Float64Array.from({ length: samples }, (_, k) => k * interval), values };
}

/** One pole: between two looks, a tenth of a sample apart, the curve is taken as a straight line, for which the filter's answer is exact. */
function lowPass(
  time: Float64Array,
  values: Float64Array,
  { from, interval, samples, bandwidth }: Pick<Instrument, "from" | "interval" | "samples" | "bandwidth">,
): Float64Array {
  const looks = 10;
  const h = interval / looks;
  const tau = 1 / (2 * Math.PI * bandwidth);
  const decay = Math.exp(-h / tau);
  const out = new Float64Array(samples);
  let row = 0;
  const at = (t: number): number => {
    while (row + 2 < time.length && time[row + 1] <= t) row++;
    const span = time[row + 1] - time[row];
    const share = span > 0 ? Math.min(1, Math.max(0, (t - time[row]) / span)) : 1;
    return values[row] + share * (values[row + 1] - values[row]);
  };
  let input = at(from);
  let y = input;
  for (let k = 0; k < samples; k++) {
    out[k] = y;
    for (let j = 1; j <= looks; j++) {
      const next = at(from + k * interval + j * h);
      const slope = (next - input) / h;
      y = next - slope * tau + (y - input + slope * tau) * decay;
      input = next;
    }
  }
  return out;
}

/** Normal deviates from a seed: Box and Muller (1958) on a generator of 32 bits. */
export function normals(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
