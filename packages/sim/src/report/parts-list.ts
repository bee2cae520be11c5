import { keyOf } from "../scenario/keys.ts";
import type { Cited, PartClass, PartKind } from "../scenario/parts/types.ts";
import { scenarioSchema } from "../scenario/schema/scenario.ts";
import { type Shape, shapesOf } from "../scenario/schema/walk.ts";
import { type Dimension, formatQuantity } from "../units/index.ts";

/** One value of a part class as a reader sees it. */
export interface ListedValue {
  /** In the words of a scenario file: `limit, current`. */
  readonly label: string;
  /** With its unit. */
  readonly value: string;
  /** How well it is known: one of `Mark`. */
  readonly mark: string;
  /** Publication, sheet or reasoning, as a sentence fragment. */
  readonly source: string;
}

/**
 * The values of a part class in the words and units of a scenario file, each with its mark and source.
 *
 * @example listValues(findPart("fuse", "blade fuse 20 A")!)[0] // { label: "rated current", value: "20 A", … }
 */
export function listValues(part: PartClass): ListedValue[] {
  return Object.entries(part.values).map(([field, cited]) => {
    const keys = field.split(".").map(keyOf);
    return {
      label: keys.join(", "),
      value: valueText(part, field, keys, cited),
      mark: cited.mark,
      source: cited.source,
    };
  });
}

/** Where a class of each kind stands in a file. */
const PLACES: Readonly<Record<PartKind, readonly string[]>> = {
  supply: ["sources"],
  charger: ["sources"],
  battery: ["sources"],
  panel: ["sources"],
  load: ["loads"],
  fuse: ["main fuse"],
  crowbar: ["crowbar"],
  clamp: ["clamp"],
  "series switch": ["series switch"],
  insulation: ["sources", "lead", "insulation"],
};

function valueText({ kind }: PartClass, field: string, keys: readonly string[], { value }: Cited): string {
  if (value === null) return "unknown";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "string") return value;
  if (typeof value !== "number") return value.map(pointText).join("; ");
  const dimension = kind === "insulation" ? "temperature" : dimensionAt([...PLACES[kind], ...keys]);
  if (dimension === null) throw new Error(`the schema knows no unit for ${field} of a ${kind}`);
  return formatQuantity(value, dimension, { digits: 5 });
}

function dimensionAt(keys: readonly string[]): Dimension | null {
  let shapes: readonly Shape[] = shapesOf(scenarioSchema);
  for (const key of keys) {
    const maps = shapes.flatMap((shape) => (shape.kind === "list" ? shape.item : [shape]));
    shapes = maps.flatMap((shape) => (shape.kind === "map" ? (shape.keys.get(key) ?? []) : []));
  }
  const quantity = shapes.find((shape) => shape.kind === "quantity");
  return quantity?.kind === "quantity" ? quantity.dimension : null;
}

/** A gate of a fuse, or a point of a battery's table. */
function pointText(point: object): string {
  const fields = new Map<string, unknown>(Object.entries(point));
  const number = (key: string): number | null => {
    const found = fields.get(key);
    return typeof found === "number" ? found : null;
  };
  const [multiple, charge, emf] = [number("multiple"), number("charge"), number("emf")];
  if (multiple !== null) return `${multiple} ×: ${gateText(number("minimum"), number("maximum"))}`;
  if (charge !== null && emf !== null)
    return `${formatQuantity(charge, "ratio")}: ${formatQuantity(emf, "voltage", { digits: 4 })}`;
  return JSON.stringify(point);
}

function gateText(minimum: number | null, maximum: number | null): string {
  const time = (seconds: number | null): string => formatQuantity(seconds ?? 0, "time");
  if (minimum === null) return `at most ${time(maximum)}`;
  return maximum === null ? `at least ${time(minimum)}` : `${time(minimum)} to ${time(maximum)}`;
}
