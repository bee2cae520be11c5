import { type Curve, curveOf } from "../../capture/judge/curve.ts";
import { channelOption } from "../../capture/layout-text.ts";
import type { Capture, CapturedChannel } from "../../capture/types.ts";
import type { Issue } from "../../issue/issue.ts";
import type { Trace } from "../../trace/types.ts";
import { LineCurve } from "./curve.ts";
import { type CutOff, cutOffs } from "./cut-off.ts";
import { type Edge, type EdgeLevel, edgeLevel, edgesOf } from "./edges.ts";
import { problem } from "./free.ts";

/** A channel as the fit looks at it. Times s of the capture, values V or A. */
export interface Channel {
  readonly name: string;
  readonly unit: "V" | "A";
  readonly column: string;
  readonly curve: Curve;
  readonly line: LineCurve;
  readonly interval: number;
  /** Standard uncertainty of a value. */
  readonly off: number;
  /** Step of the instrument (0: none was told), and standard deviation of what rounding to it adds to all samples of one step alike. */
  readonly quantum: number;
  readonly common: number;
  readonly span: number;
  /** Where the instrument cut it off, and which samples stand there: they are left out. */
  readonly cutOffs: readonly CutOff[];
  readonly isCut: Uint8Array;
  readonly level: EdgeLevel | null;
  readonly edges: readonly Edge[];
  /** Samples that are looked at, and of each the standard uncertainty and over how long the simulated curve is averaged there (s). */
  readonly places: Int32Array;
  readonly offs: Float64Array;
  readonly widths: Float64Array;
  /** Of samples at a small step: whether it went up or down; 0 elsewhere. */
  readonly stepSigns: Int8Array;
  readonly every: number;
}

/** So many samples of a channel tell all that can be told in a reasonable time. */
const MOST_SAMPLES = 20_000;
/** A jump between two samples that is larger than so many uncertainties, and than so many times what lies beside it, is a step. */
const STEP = 4;
const ALONE = 2.5;

/** Makes a channel ready; null where nothing was recorded in it. */
export function channelOf(capture: Capture, channel: CapturedChannel, column: string): Channel | null {
  const curve = curveOf(capture.time, channel, capture.interval, capture.timeGrain);
  const { time, values, interval } = curve;
  if (values.length < 8) return null;
  const { resolution, ends, isCut } = cutOffs(curve);
  const sorted = edgeLevel(values, resolution.ofValue);
  const quantum = resolution.quantum ?? 0;
  // Without noise and steps a value is still written with so many digits only.
  const range = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const off = Math.max(resolution.ofValue, 1e-5 * range, 1e-9);
  const edges = sorted === null ? [] : edgesOf(curve, sorted, off);
  const every = Math.max(1, Math.ceil(values.length / MOST_SAMPLES));
  const looked = looks(curve, isCut, edges, off, every, null);
  return {
    name: channel.name,
    unit: channel.unit,
    column,
    curve,
    line: new LineCurve(time, values),
    interval,
    off,
    quantum,
    common: commonError(quantum, resolution.alone),
    span: sorted?.span ?? range,
    cutOffs: ends,
    isCut,
    level: sorted,
    edges,
    ...looked,
    every,
  };
}

/**
 * A value rounded to steps of q is off by a share that all samples of one level have in common, unless noise carries them over several steps: each harmonic k of the saw tooth
 * has the amplitude q/(πk)·exp(−2π²k²σ²/q²) (Widrow and Kollár, "Quantization Noise", 2008, chapter 4).
 */
function commonError(quantum: number, noise: number): number {
  if (!(quantum > 0)) return 0;
  let sum = 0;
  for (let k = 1; k <= 50; k++) {
    const amplitude = (quantum / (Math.PI * k)) * Math.exp(-2 * (Math.PI * k * (noise / quantum)) ** 2);
    sum += amplitude ** 2 / 2;
  }
  return Math.sqrt(sum);
}

/**
 * The same channel with the smaller steps of a run in mind, too: those that noise hides in the capture. `model`: the run at all samples of the channel.
 */
export function withSteps(channel: Channel, model: Float64Array): Channel {
  const { curve, isCut, edges, off, every } = channel;
  return { ...channel, ...looks(curve, isCut, edges, off, every, model) };
}

/** All samples but those that are cut off and the two at a steep edge, whose time counts instead; at smaller steps the curve is averaged, for when it stepped between two samples nobody knows. */
function looks(
  { time, values }: Curve,
  isCut: Uint8Array,
  edges: readonly Edge[],
  off: number,
  every: number,
  model: Float64Array | null,
) {
  const count = values.length;
  const left = isCut.slice();
  for (const { place, isSteep } of edges) if (isSteep) left.fill(1, place, Math.min(count, place + 2));
  const step = (time[count - 1] - time[0]) / (count - 1);
  const steps = new Float64Array(count);
  const begins = new Int32Array(count).fill(-1);
  const wide = new Uint8Array(count);
  const mark = (i: number, size: number): void => {
    for (const j of [i, i + 1]) {
      if (size <= steps[j]) continue;
      steps[j] = size;
      begins[j] = i;
    }
    wide.fill(1, Math.max(0, i - 1), Math.min(count, i + 3));
  };
  for (const [i, size] of jumps(values, STEP * off)) mark(i, size);
  if (model !== null) for (const [i, size] of jumps(model, off)) mark(i, size);
  const places: number[] = [];
  for (let i = 0; i < count; i += every) if (left[i] === 0) places.push(i);
  const signOf = (i: number): number => {
    if (begins[i] < 0) return 0;
    const from = model ?? values;
    return Math.sign(from[begins[i] + 1] - from[begins[i]]) || 1;
  };
  return {
    places: Int32Array.from(places),
    offs: Float64Array.from(places, (i) => Math.hypot(off, steps[i] / Math.sqrt(12))),
    widths: Float64Array.from(places, (i) => (wide[i] === 1 ? step : 0)),
    stepSigns: Int8Array.from(places, signOf),
  };
}

/** Jumps between two samples that stand out of what lies beside them. */
function* jumps(values: Float64Array, least: number): Generator<readonly [place: number, size: number]> {
  const at = (i: number): number => (i >= 0 && i + 1 < values.length ? Math.abs(values[i + 1] - values[i]) : 0);
  for (let i = 0; i + 1 < values.length; i++) {
    const own = at(i);
    if (own > least && own > ALONE * Math.max(at(i - 1), at(i + 1))) yield [i, own];
  }
}

/** Which column of the run each channel shows: as told, else by the words of its name. Every problem at once. */
export function columnsFor(
  capture: Capture,
  trace: Trace,
  owners: readonly string[],
  told: readonly string[],
): { readonly columns: readonly (string | null)[]; readonly issues: readonly Issue[] } {
  const issues: Issue[] = [];
  const known = trace.columns.filter(({ unit }) => unit === "V" || unit === "A");
  const names = known.map(({ name }) => name);
  const columns: (string | null)[] = capture.channels.map((channel) => byName(channel, names, owners));
  for (const [k, text] of told.entries()) {
    const [name = "", column = ""] = text.split("=").map((each) => each.trim());
    const at = capture.channels.findIndex((channel) => channel.name === name);
    const path = `channels[${k}]`;
    if (at < 0)
      issues.push(
        problem(
          "no-such-channel",
          path,
          "The capture has no channel of this name.",
          name,
          capture.channels.map((channel) => channel.name).join(", "),
        ),
      );
    const found = known.find((each) => each.name === column.replaceAll(/\s+/g, "_"));
    if (found === undefined)
      issues.push(problem("no-such-column", path, "The run has no such column.", column, names.join(", ")));
    else if (at >= 0 && found.unit !== capture.channels[at].unit)
      issues.push(
        problem(
          "wrong-unit",
          path,
          `The channel is in ${capture.channels[at].unit}, the column is not.`,
          column,
          `a column in ${capture.channels[at].unit}`,
          found.unit === "A" ? clampHint(capture, name) : null,
        ),
      );
    else if (at >= 0) columns[at] = found.name;
  }
  const shown = columns.filter((column) => column !== null);
  const twice = shown.find((column, k) => shown.indexOf(column) !== k);
  if (twice !== undefined)
    issues.push(problem("same-value", "channels", "Two channels would show one column.", twice, "each column once"));
  if (issues.length === 0 && columns.every((column) => column === null)) {
    // No capture is without a channel, and every run has columns in V and in A.
    const [first] = capture.channels;
    const [like] = known.filter(({ unit }) => unit === first.unit).map(({ name }) => name);
    issues.push(
      problem(
        "another-line",
        "channels",
        "No channel of the capture is named like anything in the scenario: is it a capture of another line?",
        capture.channels.map(({ name, unit }) => `${name} (${unit})`).join(", "),
        names.join(", "),
        `say which is which: ${first.name} = ${like} (in the command: --channels '${first.name} = ${like}')`,
      ),
    );
  }
  return { columns, issues };
}

/** A current that was measured as a voltage. */
function clampHint({ layout: { channels } }: Capture, name: string): string {
  const clamped = channels.map((channel) => (channel.name === name ? { ...channel, amperesPerVolt: 100 } : channel));
  return `if "${name}" shows a current, say what its clamp or shunt makes of one where the capture is read; on the command line, with a clamp of 10 mV/A: --channel "${channelOption(clamped)}"`;
}

const words = (text: string): string[] =>
  text
    .toLowerCase()
    .split(/[^\p{L}\d]+/u)
    .filter((word) => word !== "");

/** The one column with all words of the channel's name; sources and loads before places of the line, and the shortest before longer ones. */
function byName({ name, unit }: CapturedChannel, columns: readonly string[], owners: readonly string[]): string | null {
  const wanted = words(name).filter((word) => !["v", "a", "voltage", "current", "terminals"].includes(word));
  if (wanted.length === 0) return null;
  const fitting = columns.filter((column) => {
    const own = words(column.replaceAll("_", " "));
    return own.at(-1) === unit.toLowerCase() && wanted.every((word) => own.includes(word));
  });
  const mains = fitting.filter((column) => owners.includes(column.slice(0, -2)));
  for (const some of [mains, fitting]) {
    if (some.length === 1) return some[0];
    const shortest = some.filter((column) => words(column.replaceAll("_", " ")).length === wanted.length + 1);
    if (shortest.length === 1) return shortest[0];
  }
  return null;
}
