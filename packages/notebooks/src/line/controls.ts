import { type Dimension, describeValue, formatQuantity, parseQuantity, type ScenarioResult } from "@railfault/sim";
import { type ChoiceOption, type Control, choice, type RangeOptions, range } from "../controls/index.ts";
import type { Change, Path } from "../kept/state.ts";
import type { Line, LineNow } from "./line.ts";
import { startsWith } from "./merge.ts";

export interface LineRangeOptions {
  readonly label: string;
  readonly help?: string;
  /** Where the value stands; a function where that depends on the line (`area` or `gauge`, which source). */
  readonly path: Path | ((now: LineNow) => Path);
  readonly dimension: Dimension;
  /** SI units. */
  readonly min: number;
  readonly max: number;
  /** Distance of the slider's stops; left out: stops of the E24 series. */
  readonly step?: number;
  /** The only values that are on sale; `step` is not asked then. */
  readonly steps?: readonly number[];
  /** Typical values, marked under the slider. */
  readonly marks?: readonly number[];
  /** How the value is shown and written in the file; default the unit that suits its size. */
  readonly format?: (value: number) => string;
  /** What a move of the slider changes; default the value at `path`. */
  readonly changes?: (text: string, now: LineNow) => readonly Change[];
}

/** Numbers are shown and written with as many digits as a slider's stop needs. */
const DIGITS = 6;

/**
 * A slider for one value of the line. It shows where the value comes from, and is disabled where the line has no such value.
 *
 * @throws RangeError as `range` does
 * @example lineRange(document, line, { label: "Trip voltage", path: ["crowbar", "trip voltage"], dimension: "voltage", min: 14, max: 17, step: 0.1 })
 */
export function lineRange(document: Document, line: Line, options: LineRangeOptions): Control<number, object> {
  const { label, dimension, min, max } = options;
  const pathIn = (now: LineNow): Path => (typeof options.path === "function" ? options.path(now) : options.path);
  const text = options.format ?? ((value: number): string => formatQuantity(value, dimension, { digits: DIGITS }));
  const parse = (typed: string): number => {
    const parsed = parseQuantity(typed, dimension);
    if (!parsed.ok) throw new Error(parsed.message);
    return parsed.value;
  };
  const seen = (now: LineNow) => {
    const path = pathIn(now);
    const described = describeValue(now.parsed, path);
    const value = typeof described?.value === "number" ? described.value : null;
    const initial = numberAt(now.original, path);
    // A value may have been changed as part of a whole: a limit of another style.
    const changed = now.state.changes.some(([at]) => startsWith(path, at));
    return {
      value: value ?? min,
      initial,
      disabled: value === null,
      absent: value === null,
      source: value === null || described === null ? "not in this line" : sourceText(described, changed),
      // A line may say what no slider offers; only a logarithmic one cannot reach down to 0.
      min: value === null || (isLog(options) && value <= 0) ? min : Math.min(min, value),
      max: Math.max(max, value ?? max),
    };
  };
  const { initial, ...first } = seen(line.now);
  const control = range(document, {
    label,
    format: text,
    parse,
    ...stopsOf(options),
    ...(options.help === undefined ? {} : { help: options.help }),
    ...(options.marks === undefined ? {} : { marks: options.marks }),
    ...first,
    initial: initial ?? first.value,
  });
  control.addEventListener("input", () => {
    const value = text(control.value);
    const path = pathIn(line.now);
    const changes = options.changes?.(value, line.now) ?? [
      [path, written(line.now, path, control.value, value)] as const,
    ];
    line.set(`${label}: ${value}`, changes, path.join("."));
  });
  // A drag ends where the pointer lets go. Each press of a key ends with a change, too: those join while they follow each other.
  let byKey = false;
  control.addEventListener("keydown", () => {
    byKey = true;
  });
  control.addEventListener("pointerdown", () => {
    byKey = false;
  });
  control.addEventListener("change", () => {
    if (!byKey) line.settle();
  });
  line.follow((now) => {
    const { initial: start, ...rest } = seen(now);
    control.update({ ...rest, initial: start ?? rest.value });
  });
  return control;
}

/** What stands in the file for a value: as it stood when the line was opened, where it is that value again. */
function written(now: LineNow, path: Path, value: number, text: string): string | null {
  const before = describeValue(now.original, path);
  const isReplaced = now.state.changes.some(([at]) => at.length < path.length && startsWith(path, at));
  if (before === null || before.value !== value || isReplaced) return text;
  return before.origin === "file" ? before.text : null;
}

function isLog({ step, steps }: LineRangeOptions): boolean {
  return step === undefined && steps === undefined;
}

function stopsOf({ step, steps }: LineRangeOptions): Pick<RangeOptions, "step" | "steps" | "log"> {
  if (steps !== undefined) return { steps };
  return step === undefined ? { log: true } : { step };
}

export interface LineOption extends ChoiceOption {
  /** What choosing it changes. */
  readonly changes: readonly Change[] | ((now: LineNow) => readonly Change[]);
}

export interface LineChoiceOptions {
  readonly label: string;
  /** What it is about, and where the present value comes from. */
  readonly help?: string | ((now: LineNow) => string);
  readonly options: readonly LineOption[] | ((now: LineNow) => readonly LineOption[]);
  /** Which option the line stands at; null for none of them. */
  readonly current: (now: LineNow) => string | null;
  readonly as?: "segments" | "list" | "menu";
  /** Called for what the line has where it stands at none of the options. */
  readonly otherwise?: string;
}

const OTHER = "something else";

/**
 * A choice between several forms of the line: kinds of fault, fuses, protectors.
 *
 * @example lineChoice(document, line, { label: "Main fuse", options: [{ value: "10", label: "10 A", changes: [[["main fuse"], "blade fuse 10 A"]] }], current })
 */
export function lineChoice(document: Document, line: Line, options: LineChoiceOptions): Control<string, object> {
  const { label, current, otherwise = "as in the file" } = options;
  const offered = (now: LineNow): readonly LineOption[] =>
    typeof options.options === "function" ? options.options(now) : options.options;
  const seen = (now: LineNow) => {
    const value = current(now);
    const known = offered(now);
    const shown: ChoiceOption[] = known.map(withoutChanges);
    const help = typeof options.help === "function" ? options.help(now) : options.help;
    return {
      ...(value !== null && known.some((option) => option.value === value)
        ? { value, options: shown }
        : { value: OTHER, options: [...shown, { value: OTHER, label: otherwise, disabled: true }] }),
      ...(help === undefined ? {} : { help }),
    };
  };
  const control = choice(document, {
    label,
    ...seen(line.now),
    ...(options.as === undefined ? {} : { as: options.as }),
  });
  control.addEventListener("input", () => {
    const chosen = offered(line.now).find(({ value }) => value === control.value);
    if (chosen === undefined) return;
    const changes = typeof chosen.changes === "function" ? chosen.changes(line.now) : chosen.changes;
    line.set(`${label}: ${chosen.label}`, changes);
  });
  line.follow((now) => control.update(seen(now)));
  return control;
}

/** What is shown of an option; one that only changes something else keeps its place and its focus. */
function withoutChanges(option: LineOption): ChoiceOption {
  const copy: ChoiceOption & { changes?: unknown } = { ...option };
  delete copy.changes;
  return copy;
}

function numberAt(parsed: ScenarioResult, path: Path): number | null {
  const value = describeValue(parsed, path)?.value;
  return typeof value === "number" ? value : null;
}

function sourceText(described: NonNullable<ReturnType<typeof describeValue>>, changed: boolean): string {
  if (changed) return "changed here";
  if (described.origin === "file") return "from the line's file";
  const mark = described.mark === "given" ? "" : `${described.mark}: `;
  return described.partClass === null
    ? `${mark}${described.source}`
    : `${described.partClass}; ${mark}${described.source}`;
}
