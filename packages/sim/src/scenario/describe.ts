import { type Dimension, parseQuantity } from "../units/index.ts";
import { type Path, pathText } from "./keys.ts";
import type { Mark } from "./parts/types.ts";
import { mainKey } from "./schema/short-form.ts";
import { type Shape, shapesAt } from "./schema/walk.ts";
import type { Origin } from "./sheet.ts";
import { isPlainMap } from "./text/written.ts";

/** What a description needs of a reading: the input as it was written, and where everything else came from. */
export interface Described {
  /** Plain data: maps, lists and texts. */
  readonly written: unknown;
  /** Of every value that was not written. */
  readonly origins: readonly Origin[];
}

/** One value of a scenario as a control shows it. */
export interface DescribedValue {
  /** Keys of the file and indices. */
  readonly path: Path;
  /** In the words of the file, for instance `bench supply: limit, current`. */
  readonly label: string;
  /** What it is, in the schema's words. */
  readonly about: string;
  /** As it stands in the file, or would, with its unit. */
  readonly text: string;
  /** In SI units (temperatures in °C); a word or a name as it is; null where it cannot be read as what belongs there. */
  readonly value: number | string | boolean | null;
  /** Null for words, names and texts. */
  readonly dimension: Dimension | null;
  /** Who says it. */
  readonly origin: "file" | "part class" | "default";
  /** The part class that gives it. */
  readonly partClass: string | null;
  /** A sentence fragment that a reader understands. */
  readonly source: string;
  /** How well it is known; `given` for what stands in the file. */
  readonly mark: Mark | "given";
}

/**
 * A single value of a scenario with its unit and where it comes from, be it written in the file or not.
 *
 * @param parsed what `parseScenario` gave, with errors or without
 * @param path keys of the file and indices, for instance `["sources", 0, "limit", "current"]`
 * @returns null where nothing stands and no part class or default steps in, and for maps and lists
 *
 * @example describeValue(parseScenario(text, "hut.yaml"), ["crowbar", "trip voltage"])?.text // "15.0 V"
 */
export function describeValue(parsed: Described, path: Path): DescribedValue | null {
  const shapes = shapesAt(path);
  const common = { path, label: labelOf(parsed.written, path), about: shapes[0]?.about ?? "" };
  const written = textAt(parsed.written, path);
  if (written !== null) {
    const source = "stands in the file";
    return { ...common, ...read(written, shapes), origin: "file", partClass: null, source, mark: "given" };
  }
  const key = pathText(path);
  const found = parsed.origins.find((origin) => origin.path === key);
  if (found === undefined) return null;
  const seen = read(found.value, shapes);
  // Some origins tell of what no single value of a file says: the sum of contacts, a calibrated ladder.
  if (seen.value === null) return null;
  const { source, mark, partClass } = found;
  const origin = partClass === null ? "default" : "part class";
  return { ...common, ...seen, origin, partClass, source, mark };
}

/**
 * The paths of every single value that `describeValue` tells something of: what stands in the file, in its order, then what part classes and
 * defaults give.
 *
 * @example describedPaths(parsed).map((path) => describeValue(parsed, path))
 */
export function describedPaths(parsed: Described): Path[] {
  const written = leavesOf(parsed.written, []).filter(([first]) => first !== "tolerances" && first !== "variants");
  const known = new Set(written.map(pathText));
  const others = parsed.origins.flatMap(({ path }) => {
    if (known.has(path)) return [];
    known.add(path);
    const steps = stepsOf(path);
    return describeValue(parsed, steps) === null ? [] : [steps];
  });
  return [...written, ...others];
}

/** `sources[0].lead.length` as steps; keys of the format hold neither dots nor brackets. */
function stepsOf(path: string): Path {
  return (path.match(/[^.[\]]+/g) ?? []).map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

function leavesOf(value: unknown, path: Path): Path[] {
  if (typeof value === "string") return [path];
  if (Array.isArray(value)) return value.flatMap((item, index) => leavesOf(item, [...path, index]));
  return isPlainMap(value) ? Object.entries(value).flatMap(([key, inner]) => leavesOf(inner, [...path, key])) : [];
}

/** A text at a path of the written data; the main key of a short form is the short form itself. */
function textAt(written: unknown, path: Path): string | null {
  let value = written;
  for (const [depth, step] of path.entries()) {
    if (typeof value === "string")
      return depth === path.length - 1 && mainKey(path.slice(0, depth), value) === step ? value : null;
    if (Array.isArray(value) && typeof step === "number") value = value[step];
    else if (isPlainMap(value) && Object.hasOwn(value, step)) value = value[step];
    else return null;
  }
  return typeof value === "string" ? value : null;
}

function read(text: string, shapes: readonly Shape[]): Pick<DescribedValue, "text" | "value" | "dimension"> {
  const quantity = shapes.find((shape) => shape.kind === "quantity");
  const dimension = quantity?.kind === "quantity" ? quantity.dimension : null;
  const words = shapes.flatMap((shape) => (shape.kind === "words" || shape.kind === "quantity" ? shape.words : []));
  if (words.includes(text)) return { text, value: text, dimension };
  if (dimension !== null) return { text, value: numberOf(text, dimension), dimension };
  if (shapes.some(({ kind }) => kind === "count"))
    return { text, value: numberOf(text, "number"), dimension: "number" };
  if (shapes.some(({ kind }) => kind === "yes or no"))
    return { text, value: text === "yes" || text === "true", dimension };
  const isText = shapes.some(({ kind }) => kind === "text" || kind === "part");
  return { text, value: isText ? text : null, dimension };
}

function numberOf(text: string, dimension: Dimension): number | null {
  const parsed = parseQuantity(text, dimension);
  return parsed.ok ? parsed.value : null;
}

/** The part first: a source or load by its name. */
function labelOf(written: unknown, path: Path): string {
  const [list, index] = path;
  const isEntry = typeof index === "number";
  const name = isEntry ? textAt(written, [list, index, "name"]) : null;
  const owner = isEntry ? (name ?? `${String(list).replace(/s$/, "")} ${index + 1}`) : String(list);
  const rest = path.slice(isEntry ? 2 : 1).map((step) => (typeof step === "number" ? `entry ${step + 1}` : step));
  return rest.length === 0 ? owner : `${owner}: ${rest.join(", ")}`;
}
