import { bendingBy } from "./align.ts";
import type { Channel } from "./channels.ts";
import type { Edge } from "./edges.ts";
import type { Simulated } from "./simulated.ts";

/** What a fit moves beside the values: how the capture lies in time, how a channel lags the first, what it shows for nothing. */
export interface Own {
  readonly shift: number;
  readonly lags: readonly number[];
  readonly zeros: readonly number[];
}

/** Where everything stands in the list of what a fit moves: values, shift, a lag for each channel but the first, a zero for each. */
export function ownOf(all: readonly number[], free: number, channels: number): Own {
  return {
    shift: all[free],
    lags: [0, ...all.slice(free + 1, free + channels)],
    zeros: all.slice(free + channels, free + 2 * channels),
  };
}

/** An edge of the capture and the place among the run's edges of the same channel that it belongs to. */
export interface Pair {
  readonly channel: number;
  readonly edge: Edge;
  readonly place: number;
}

export interface HeldOptions {
  /**
   * First look: the run's times are bent so that its edges lie on the capture's, and both curves are averaged, so that values far from the right ones
   * are still pulled the right way; edges count as known to `edgeOff` only, s, lest far ones outweigh all else. Null: as it is.
   */
  readonly bent: { readonly width: number; readonly edgeOff: number } | null;
  /** Standard uncertainty of each channel's zero (V or A), and of a lag (s). */
  readonly zeroOffs: readonly number[];
  readonly lagOff: number;
  /** Where a run ends: an edge that it lacks counts as if it were there. */
  readonly until: number;
}

/** What an edge of the run that there is not counts as. */
const simulatedTime = ({ edges }: Simulated, { channel, place }: Pair, until: number): number =>
  edges[channel][place]?.time ?? until;

/** How many residuals the curves make; those of edges, lags and zeros stand behind. */
const curveRows = (channels: readonly Channel[]): number =>
  channels.reduce((sum, { places }) => sum + places.length, 0);

/**
 * Capture less run, over what each may be off by: samples of the curves, times of edges that fell between two samples, and what is known beforehand of lags and
 * zeros.
 */
export function held(
  channels: readonly Channel[],
  pairs: readonly Pair[],
  simulated: Simulated,
  own: Own,
  { bent, zeroOffs, lagOff, until }: HeldOptions,
): Float64Array {
  const used = bent === null ? pairs.filter(({ edge }) => edge.isSteep) : pairs;
  const out = new Float64Array(curveRows(channels) + used.length + channels.length - 1 + channels.length);
  let row = 0;
  const bend = bent === null ? null : bending(pairs, simulated, own, until);
  for (const [c, channel] of channels.entries()) {
    const { curve, places, offs, widths, line, span } = channel;
    const shift = own.shift + own.lags[c];
    for (let k = 0; k < places.length; k++) {
      const t = curve.time[places[k]];
      if (bent === null || bend === null) {
        const model = simulated.lines[c].mean(t + shift, widths[k]);
        out[row++] = (curve.values[places[k]] - own.zeros[c] - model) / offs[k];
      } else {
        const model = simulated.lines[c].mean(bend(t + shift), bent.width);
        out[row++] = (line.mean(t, bent.width) - own.zeros[c] - model) / Math.hypot(3 * offs[k], 0.01 * span);
      }
    }
  }
  for (const pair of used) {
    const { edge, channel } = pair;
    const off = Math.max(edge.off, bent?.edgeOff ?? 0);
    out[row++] = (edge.time + own.shift + own.lags[channel] - simulatedTime(simulated, pair, until)) / off;
  }
  for (let c = 1; c < channels.length; c++) out[row++] = own.lags[c] / lagOff;
  for (const [c, zero] of own.zeros.entries()) out[row++] = zeroOffs[c] > 0 ? zero / zeroOffs[c] : 0;
  return out;
}

/** From shifted times of the capture to times of the run: edges lie on edges, straight in between. By the channel with the most edges. */
function bending(pairs: readonly Pair[], simulated: Simulated, own: Own, until: number): (t: number) => number {
  const counts = own.zeros.map((_, c) => pairs.filter(({ channel }) => channel === c).length);
  const main = counts.indexOf(Math.max(...counts));
  const knots = pairs
    .filter(({ channel }) => channel === main)
    .map((pair) => [pair.edge.time + own.shift + own.lags[main], simulatedTime(simulated, pair, until)] as const);
  return bendingBy(knots);
}

/** How far the farthest edge of the run lies from where it was captured, s. */
export function farthest(pairs: readonly Pair[], simulated: Simulated, own: Own, until: number): number {
  return pairs.reduce((most, pair) => {
    const far = Math.abs(pair.edge.time + own.shift + own.lags[pair.channel] - simulatedTime(simulated, pair, until));
    return Math.max(most, far);
  }, 0);
}
