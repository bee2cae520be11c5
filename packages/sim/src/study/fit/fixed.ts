import type { FitMemory, ScenarioResult } from "../../scenario/index.ts";
import { pathText } from "../../scenario/keys.ts";
import { findValue } from "../../scenario/spread/index.ts";
import { Cancelled } from "../pool/deal.ts";
import { Readings, type Varied } from "../pool/readings.ts";
import { askablePaths } from "./askable.ts";
import { held, ownOf } from "./held.ts";
import type { Known } from "./posterior.ts";
import { type Ground, length } from "./search.ts";
import { Simulator } from "./simulated.ts";
import type { FitHooks } from "./types.ts";

/** A value that was not moved, and what it means for those that were. */
export interface Fixed {
  readonly label: string;
  /** As it stands, with its unit. */
  readonly nominal: number;
  readonly unit: string;
  /** What the sum of squares would be less by if it moved, too, in units of what noise makes of it: chi-square with one degree of freedom where it is right. */
  readonly drop: number;
  /** By what share of itself it would have to change for that, as far as all is straight. */
  readonly share: number;
  /** Standard uncertainty of that share: by its spread in the scenario, or a usual one, and by the capture. */
  readonly known: number;
  /** By how much a share of one moves each value, in the value's unit. */
  readonly moves: readonly number[];
}

/** Of a fit's runs the share that is spent on this, and how many at least and at most. */
const RUNS_SHARE = 1 / 3;
const LEAST_RUNS = 10;
const MOST_RUNS = 24;
/** Share of itself by which a value is changed. */
const CHANGE = 0.005;
/** Standard uncertainty of a value whose spread the scenario does not tell, as a share of it. */
const USUAL = 0.05;
/** Steps for derivatives by what takes no run, in what each is known to beforehand. */
const STEP = 0.04;

/**
 * Looks at values that were not moved: by how much less would be left if one of them were? (Score test: C. R. Rao, Proc. Camb. Phil. Soc. 44, 1948, 50–57.) One run each, for its derivative; what
 * the moved values, shift, lags and zeros can do as well is taken out of it, and nothing rests on a single row. Those that people ask for first come first, as far as runs go.
 *
 * @param scatter standard deviation of each channel's residuals, in units of what was expected
 */
export async function fixedOf(
  ground: Ground,
  known: Known,
  scatter: readonly number[],
  { text, file, parsed, memory }: { text: string; file: string; parsed: ScenarioResult; memory: FitMemory },
  hooks: FitHooks,
): Promise<{ readonly fixed: readonly Fixed[]; readonly runs: number }> {
  const { channels, varied, simulator, until } = ground;
  const others = fixedValues(parsed, varied).slice(
    0,
    Math.min(MOST_RUNS, Math.max(LEAST_RUNS, Math.floor(RUNS_SHARE * simulator.count))),
  );
  const readings = new Readings(text, file, [...varied, ...others], memory, false);
  const trial = new Simulator(readings, [...varied, ...others], channels, until);
  const { at, columns } = linesAround(ground, known, scatter);
  const here = at(known.all, known.simulated);
  const basis = orthonormal(columns.map(({ column }) => column));
  const left = without(here, basis);
  const unit = Math.max(1, length(left) ** 2 / Math.max(1, left.length - basis.length));
  const values = known.all.slice(0, varied.length);
  const nominals = others.map(({ nominal }) => nominal);
  const fixed: Fixed[] = [];
  for (const [k, { label, nominal, unit: written }] of others.entries()) {
    await hooks.pause?.();
    if (hooks.signal?.aborted === true) throw new Cancelled();
    const simulated = trial.at([...values, ...nominals.with(k, nominal * (1 + CHANGE))]);
    if (simulated === null) continue;
    const column = at(known.all, simulated).map((each, i) => (each - here[i]) / CHANGE);
    const own = without(column, basis);
    const size = length(own);
    // What the moved values do as well to the last digits no capture tells from them.
    const isSame = !(size > 1e-6 * length(column));
    const { slope, square } = withoutStrongest(own, left);
    const told = isSame ? 0 : size ** 2 / unit;
    fixed.push({
      label,
      nominal,
      unit: written,
      drop: isSame || !(square > 0) ? 0 : slope ** 2 / square / unit,
      share: isSame || !(square > 0) ? 0 : -slope / square,
      known: 1 / Math.sqrt(1 / spreadOf(parsed, others[k]) ** 2 + told),
      moves: movesOf(column, columns, varied.length),
    });
  }
  return { fixed, runs: trial.count };
}

function fixedValues(parsed: ScenarioResult, varied: readonly Varied[]): Varied[] {
  const free = varied.map(({ path }) => pathText(path));
  return askablePaths(parsed).flatMap((path): Varied[] => {
    const found = findValue(pathText(path), parsed);
    if (free.includes(pathText(path)) || !("path" in found)) return [];
    const { label, nominal } = found;
    const { value, dimension, unit } = nominal;
    const ends = { low: value * (1 - 2 * CHANGE), high: value * (1 + 2 * CHANGE) };
    return value > 0 ? [{ path, label, dimension, unit, nominal: value, ...ends }] : [];
  });
}

/** Standard uncertainty by what the scenario tells of a value, as a share of it. */
function spreadOf({ spreads }: ScenarioResult, { path, nominal }: Varied): number {
  const spread = spreads.find((each) => pathText(each.path) === pathText(path));
  if (spread === undefined) return USUAL;
  const { low, high, shape } = spread;
  const over = { normal: 6, uniform: Math.sqrt(12), corners: 2 }[shape];
  return Math.max(1e-6, (high - low) / over / nominal);
}

/** What is left, and how it changes with all that moves: the values by the runs around them, all else without a run. */
function linesAround(ground: Ground, { all, simulated, sides }: Known, scatter: readonly number[]) {
  const { channels, pairs, varied, zeroOffs, lagOff, until } = ground;
  const count = varied.length;
  const many = channels.length;
  const weights = channels.flatMap(({ places }, c) => new Array<number>(places.length).fill(1 / scatter[c]));
  const at = (values: readonly number[], run: Known["simulated"]): Float64Array =>
    held(channels, pairs, run, ownOf(values, count, many), { bent: null, zeroOffs, lagOff, until }).map(
      (each, i) => each * (weights[i] ?? 1),
    );
  const columns = all.flatMap((value, k) => {
    const side = sides[k];
    if (k < count) {
      if (side === undefined || side === null) return [];
      const [up, down] = [at(all, side.up), at(all, side.down)];
      return [{ k, column: up.map((each, i) => (each - down[i]) / side.over) }];
    }
    const step = STEP * (k < count + many ? lagOff : zeroOffs[k - count - many]);
    if (!(step > 0)) return [];
    const [up, down] = [at(all.with(k, value + step), simulated), at(all.with(k, value - step), simulated)];
    return [{ k, column: up.map((each, i) => (each - down[i]) / (2 * step)) }];
  });
  return { at, columns };
}

/** By how much each value moves to make up for a column: least squares, by directions at right angles to each other. */
function movesOf(
  column: Float64Array,
  columns: readonly { readonly k: number; readonly column: Float64Array }[],
  count: number,
): number[] {
  return Array.from({ length: count }, (_, k) => {
    const own = columns.find((each) => each.k === k);
    if (own === undefined) return 0;
    const others = orthonormal(columns.filter((each) => each.k !== k).map((each) => each.column));
    const alone = without(own.column, others);
    const size = length(alone) ** 2;
    return size > 0 ? -dot(alone, column) / size : 0;
  });
}

/** Directions at right angles to each other that span the same as some columns (Gram and Schmidt, each taken twice). */
function orthonormal(columns: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const column of columns) {
    const rest = without(without(column, basis), basis);
    const size = length(rest);
    if (size > 1e-9 * length(column)) basis.push(rest.map((each) => each / size));
  }
  return basis;
}

function without(column: Float64Array, basis: readonly Float64Array[]): Float64Array {
  const rest = column.slice();
  for (const direction of basis) {
    const share = dot(direction, rest);
    for (let i = 0; i < rest.length; i++) rest[i] -= share * direction[i];
  }
  return rest;
}

/**
 * What a column has in common with what is left, and its own square, without the row that says most for it: the first sample of a steep edge stands off by what the instrument's
 * bandwidth makes of it, and would speak for whatever moves edges.
 */
function withoutStrongest(own: Float64Array, left: Float64Array): { readonly slope: number; readonly square: number } {
  const slope = dot(own, left);
  let strongest = 0;
  for (let i = 1; i < own.length; i++)
    if (own[i] * left[i] * Math.sign(slope) > own[strongest] * left[strongest] * Math.sign(slope)) strongest = i;
  const [mine, its] = [own[strongest], left[strongest]];
  return { slope: slope - mine * its, square: dot(own, own) - mine ** 2 };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
