import type { Issue } from "../../issue/issue.ts";
import { refusalsOf } from "../../scenario/check/again.ts";
import { bareLine, type FitMemory, parseScenario, resolveScenario, type ScenarioResult } from "../../scenario/index.ts";
import type { Path } from "../../scenario/keys.ts";
import { amountIn, valueText, withValues } from "../../scenario/spread/index.ts";
import type { Scenario } from "../../scenario/types.ts";
import type { Dimension } from "../../units/index.ts";
import { unitsAt } from "./counter.ts";
import { differences, type Leaf, withLeaf } from "./leaves.ts";

/** One value that a study changes; numbers in `unit`, as the file has them. */
export interface Varied {
  /** Of the value in the file. */
  readonly path: Path;
  /** In the words of the file. */
  readonly label: string;
  /** What it measures. */
  readonly dimension: Dimension;
  /** The unit in which the file writes it; the empty text for plain numbers. */
  readonly unit: string;
  /** As the file has it. */
  readonly nominal: number;
  /** Lower end of its range. */
  readonly low: number;
  /** Upper end of its range. */
  readonly high: number;
}

/** Vectors that are read both ways before the short one is trusted. */
const TRIALS = 12;

/**
 * One scenario text read again and again with other values at some paths. What a value only is, and nothing follows from, is changed in the
 * complete scenario itself; all else is resolved anew from the data of the text. Both give the very same scenario: that is tried before the
 * short way is taken.
 *
 * @example new Readings(text, "hut.yaml", varied, new FitMemory()).at([15.1, 0.2]).scenario
 */
export class Readings {
  readonly nominal: ScenarioResult;
  /** For each value the leaves that are just that; null where more follows from one of them, and all is resolved anew. */
  readonly leaves: readonly (readonly Leaf[])[] | null;
  private readonly data: unknown;

  constructor(
    text: string,
    file: string,
    private readonly varied: readonly Varied[],
    private readonly memory: FitMemory,
    /** Where few values are read, trying the short way takes longer than the long way does. */
    isShort = true,
  ) {
    const parsed = parseScenario(text, file, memory);
    this.nominal = parsed;
    this.data = parsed.written === null ? {} : bareLine(parsed.written);
    this.leaves = isShort ? this.shortWay() : null;
  }

  /** The scenario at some values, or why there is none. The issues of the text itself are those of its nominal values. */
  at(values: readonly number[]): ScenarioResult {
    if (this.nominal.scenario === null) return this.nominal;
    if (this.leaves === null) return this.resolved(values);
    const scenario = this.patched(this.nominal.scenario, this.leaves, values);
    const refusals: readonly Issue[] = refusalsOf(scenario);
    return refusals.length === 0
      ? { ...this.nominal, scenario }
      : { ...this.nominal, scenario: null, issues: refusals };
  }

  /** The long way: from the data of the text with other texts in it. */
  resolved(values: readonly number[]): ScenarioResult {
    const texts = this.varied.map(({ path, unit }, index) => [path, valueText(values[index], unit)] as const);
    // The data came from a text that was read; the schema check inside takes it from here.
    return resolveScenario(withValues(this.data, texts) as object, undefined, this.memory);
  }

  private patched(base: Scenario, leaves: readonly (readonly Leaf[])[], values: readonly number[]): Scenario {
    let scenario = base;
    for (const [index, { unit, dimension }] of this.varied.entries()) {
      const value = amountIn(valueText(values[index], unit), dimension);
      for (const leaf of leaves[index]) scenario = withLeaf(scenario, leaf, value);
    }
    return scenario;
  }

  private nominals(): number[] {
    return this.varied.map(({ nominal }) => nominal);
  }

  /** The leaves that take a value at both of its ends; null where anything else changes with it. */
  private ownLeaves(index: number): readonly Leaf[] | null {
    const base = this.nominal.scenario;
    const { low, high, unit, dimension } = this.varied[index];
    if (base === null) return null;
    let found: readonly Leaf[] | null = null;
    for (const end of [low, high]) {
      const { scenario } = this.resolved(this.nominals().with(index, end));
      if (scenario === null) return null;
      const changed = differences(base, scenario);
      const value = amountIn(valueText(end, unit), dimension);
      if (changed.some(({ a, b }) => typeof a !== "number" || b !== value)) return null;
      // An end may be the nominal value itself.
      if (changed.length === 0) continue;
      if (found !== null && key(found) !== key(changed.map(({ leaf }) => leaf))) return null;
      found = changed.map(({ leaf }) => leaf);
    }
    return found;
  }

  private shortWay(): readonly (readonly Leaf[])[] | null {
    const base = this.nominal.scenario;
    const own = this.varied.map((_, index) => this.ownLeaves(index));
    const all = own.filter((leaves) => leaves !== null);
    if (base === null || all.length < own.length) return null;
    const agree = Array.from({ length: TRIALS }, (_, trial) =>
      this.varied.map(({ low, high }, index) => low + (high - low) * unitsAt(0, trial, index)[0]),
    ).every((values) => {
      const { scenario } = this.resolved(values);
      // What is refused jointly is refused both ways, see `refusalsOf`.
      return scenario === null || differences(this.patched(base, all, values), scenario).length === 0;
    });
    return agree ? all : null;
  }
}

const key = (leaves: readonly Leaf[]): string => JSON.stringify(leaves);
