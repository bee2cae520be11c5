import type { Issue } from "../../issue/issue.ts";
import { changeTexts, parseScenario } from "../../scenario/index.ts";
import { pathText } from "../../scenario/keys.ts";
import { TOLERANCES, valueText } from "../../scenario/spread/index.ts";
import { parseQuantity } from "../../units/index.ts";
import { batchesOf, type Crew, type CrewMaker, type DealOptions, deal } from "../pool/deal.ts";
import type { BrokenSample } from "../pool/evaluate.ts";
import { RUN_FIGURES } from "../pool/figures.ts";
import { OUTCOMES, type Outcome } from "../pool/outcome.ts";
import { type Axis, along, readAxis } from "./axis.ts";
import { type Cell, type Node, PLANE, refine } from "./plane.ts";

/** What is asked of a what-if chart or a sweep. */
export interface WhatIfOptions {
  /** `crowbar.trip voltage: 14…17 V`. */
  readonly x: string;
  /** Null: a sweep of `x` alone. */
  readonly y: string | null;
  /** Simulations of a plane at most. */
  readonly most: number;
  /** Simulations of a sweep. */
  readonly points: number;
}

/** How many runs a study makes at most, and how many values it begins with on an axis, unless told otherwise. */
export const USUAL_WHATIF = { most: 1000, points: 33 } as const;
export const LIMITS = { most: [300, 20_000], points: [2, 10_000] } as const;

/** One simulation of a study. */
export interface Point {
  /** In the units of the axes; `y` is null in a sweep. */
  readonly x: number;
  readonly y: number | null;
  /** How it ended. */
  readonly outcome: Outcome;
  /** Whether a decisive level was missed or passed by less than 0.1 %. */
  readonly close: boolean;
  /** `RUN_FIGURES`; NaN where there is none. */
  readonly figures: readonly number[];
}

/** What a study of two values, or a sweep of one, found. */
export interface WhatIf {
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** The scenario file. */
  readonly text: string;
  /** Its name, for messages. */
  readonly file: string;
  /** What varies to the right. */
  readonly x: Axis;
  /** What varies upwards; null in a sweep. */
  readonly y: Axis | null;
  /** Every simulation; those of a sweep in order of `x`. */
  readonly points: readonly Point[];
  /** Of the plane, in 64ths of its sides; corners are places in `OUTCOMES`. Empty in a sweep. */
  readonly cells: readonly Cell[];
  /** False where the simulations did not suffice for every boundary. */
  readonly isComplete: boolean;
  /** Points that could not be run or broke off, by their place in `points`. */
  readonly broken: readonly BrokenSample[];
}

/** A study, or all reasons why there is none. */
export type WhatIfAnswer =
  | { readonly kind: "refused"; readonly issues: readonly Issue[] }
  | { readonly kind: "answered"; readonly study: WhatIf };

/**
 * Runs a scenario over a plane of two values, with simulations only where the outcome changes, or over a range of one.
 *
 * @param text a scenario file
 * @param makeCrew who does the runs
 * @returns all problems, or what was found
 * @throws Cancelled once the signal is raised
 */
export async function whatIf(
  text: string,
  file: string,
  options: WhatIfOptions,
  makeCrew: CrewMaker,
  hooks: DealOptions = {},
): Promise<WhatIfAnswer> {
  const { axes, issues, title } = readWhatIf(text, file, options);
  const [x, y = null] = axes;
  if (x === undefined || issues.length > 0) return { kind: "refused", issues };
  const crew = makeCrew({ text, file, varied: axes });
  try {
    const runner = new Runner(crew, axes, hooks);
    const base = { title, text, file, x, y, points: runner.points, broken: runner.broken };
    if (y === null) {
      await runner.at(Array.from({ length: options.points }, (_, k) => [k / (options.points - 1)]));
      return { kind: "answered", study: { ...base, cells: [], isComplete: true } };
    }
    const { cells, isComplete } = await refine(
      (nodes: readonly Node[]) => runner.at(nodes.map(([i, j]) => [i / PLANE, j / PLANE])),
      options.most,
    );
    return { kind: "answered", study: { ...base, cells, isComplete } };
  } finally {
    await crew.close();
  }
}

/** Works out points by their shares along the axes, and keeps them. */
class Runner {
  readonly points: Point[] = [];
  readonly broken: BrokenSample[] = [];
  private readonly begin = Date.now();

  constructor(
    private readonly crew: Crew,
    private readonly axes: readonly Axis[],
    private readonly hooks: DealOptions,
  ) {}

  /** Places in `OUTCOMES`, in the order asked. */
  async at(shares: readonly (readonly number[])[]): Promise<number[]> {
    const first = this.points.length;
    const vectors = shares.map((each) => this.axes.map((axis, k) => exact(along(axis, each[k]))));
    const kinds = new Array<number>(shares.length);
    const found = new Array<Point>(shares.length);
    const width = this.axes.length;
    await deal(
      batchesOf(first, shares.length, (index) => vectors[index - first], 8),
      width,
      shares.length,
      this.crew,
      (result) => {
        for (const [k, kind] of result.outcomes.entries()) {
          const at = result.first + k - first;
          kinds[at] = kind;
          const [x, y = null] = vectors[at];
          const row = k * RUN_FIGURES.length;
          const figures = [...result.figures.subarray(row, row + RUN_FIGURES.length)];
          found[at] = { x, y, outcome: OUTCOMES[kind], close: result.close[k] === 1, figures };
        }
        this.broken.push(...result.broken);
      },
      {
        signal: this.hooks.signal ?? null,
        progress: ({ done, total }) => {
          // What a plane will ask for is not known before.
          const elapsed = (Date.now() - this.begin) / 1000;
          this.hooks.progress?.({ done: first + done, total: first + total, elapsed, left: null });
        },
      },
    );
    this.points.push(...found);
    this.broken.sort((a, b) => a.index - b.index);
    return kinds;
  }
}

/** With the digits that stand in a file, so that a point written out is the point that was run. */
const exact = (value: number): number => Number(valueText(value, ""));

function readWhatIf(text: string, file: string, { x, y }: WhatIfOptions) {
  const parsed = parseScenario(text, file);
  const errors = parsed.issues.filter(({ severity }) => severity === "error");
  if (parsed.scenario === null) return { axes: [], issues: errors, title: "" };
  const issues: Issue[] = [];
  const axes: Axis[] = [];
  for (const [name, words] of [["x", x] as const, ...(y === null ? [] : [["y", y] as const])]) {
    const axis = readAxis(name, words, parsed);
    if ("path" in axis) axes.push(axis);
    else issues.push(...axis);
  }
  if (axes.length === 2 && pathText(axes[0].path) === pathText(axes[1].path)) {
    const both = { severity: "error", code: "same-value", path: "y", hint: null, position: null } as const;
    const message = "Both axes vary the same value.";
    issues.push({ ...both, message, received: axes[1].label, allowed: "two values" });
  }
  return { axes, issues, title: parsed.about.title };
}

/**
 * One point of a study as a scenario file: the values written in, all else as it was.
 *
 * @param values in the units of the axes
 * @example writeFileSync("point.yaml", scenarioAt(study, { x: 15.2, y: 3 }))
 */
export function scenarioAt(
  { text, x, y }: Pick<WhatIf, "text" | "x" | "y">,
  values: { x: number; y: number | null },
): string {
  return changeTexts(text, [
    // A spread may not fit around another value.
    [[TOLERANCES], null],
    [x.path, valueText(values.x, x.unit)],
    ...(y === null || values.y === null ? [] : [[y.path, valueText(values.y, y.unit)] as const]),
  ]);
}

/**
 * The point that somebody names as a scenario file.
 *
 * @param at values with their units, as many as there are axes: `15.2 V, 8 V/ms`
 * @returns the file, or all that is wrong with it
 */
export function pointAt(text: string, file: string, options: WhatIfOptions, at: string): string | readonly Issue[] {
  const { axes, issues } = readWhatIf(text, file, options);
  if (issues.length > 0) return issues;
  const words = at.split(",").map((each) => each.trim());
  const wrong = (message: string, received: string, allowed: string): Issue => {
    const none = { hint: null, position: null };
    return { severity: "error", code: "unreadable-point", path: "at", message, received, allowed, ...none };
  };
  if (words.length !== axes.length)
    return [wrong("A point has a value for each axis.", at, axes.map(({ label }) => label).join(", "))];
  const problems = axes.flatMap(({ dimension, label }, k): Issue[] => {
    const read = parseQuantity(words[k], dimension);
    return read.ok ? [] : [wrong(`${label}: ${read.message}`, words[k], read.allowed ?? "a value with its unit")];
  });
  if (problems.length > 0) return problems;
  return changeTexts(text, [[[TOLERANCES], null], ...axes.map(({ path }, k) => [path, words[k]] as const)]);
}
