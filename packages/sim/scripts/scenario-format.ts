/**
 * Writes docs/scenario-format.md from the schema and the table of defaults, so that the two cannot drift apart:
 * `npx tsx packages/sim/scripts/scenario-format.ts`.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { defaults, withstandCurves } from "../src/scenario/defaults.ts";
import { keyOf } from "../src/scenario/keys.ts";
import { partNames, parts } from "../src/scenario/parts/index.ts";
import type { PartKind } from "../src/scenario/parts/types.ts";
import { scenarioSchema } from "../src/scenario/schema/scenario.ts";
import { type Shape, shapesOf } from "../src/scenario/schema/walk.ts";
import { dimensions, exampleOf, formatQuantity, spellingsOf } from "../src/units/index.ts";

type MapShape = Extract<Shape, { kind: "map" }>;

interface Chapter {
  readonly title: string;
  /** Keys from the root; numbers stand for any entry of a list. */
  readonly path: readonly string[];
  /** Tables of defaults, with the key path inside them. */
  readonly tables: readonly string[];
  readonly kinds: readonly PartKind[];
  readonly prose: string;
}

const chapters: readonly Chapter[] = [
  { title: "The whole file", path: [], tables: ["scenario"], kinds: [], prose: "" },
  {
    title: "Sources",
    path: ["sources", "[]"],
    tables: ["supply", "battery", "panel"],
    kinds: ["supply", "charger", "battery", "panel"],
    prose:
      "A `charger` is a supply that limits to a constant current and whose fault is `lost feedback` (with the figures of its part class) unless `fault: none` says otherwise. A key that belongs to another kind of source is refused.",
  },
  {
    title: "Leads",
    path: ["sources", "[]", "lead"],
    tables: ["lead"],
    kinds: [],
    prose:
      "By `length` with `area` or `gauge` (spacing, contacts and fuse holders may be added), or by `resistance` and `inductance` with `area` for the heating of the wire. The copper's resistance is taken at the ambient temperature. Loads have the same leads.",
  },
  {
    title: "Fuses",
    path: ["main fuse"],
    tables: ["fuse"],
    kinds: ["fuse"],
    prose:
      "`main fuse` and `fuse` in a lead (the in-line fuse). Where no `stages` are given, the thermal model is fitted to the class's gates, the melting I²t and the points; `gates` or `points` of your own take the place of the class's gates. The fit's worst deviation is shown.",
  },
  {
    title: "Crowbar",
    path: ["crowbar"],
    tables: ["crowbar"],
    kinds: ["crowbar"],
    prose:
      "`crowbar` of the line, or `own crowbar` of a supply. `sense filter` is a time constant or one of two words, for it decides outcomes: `fast` (10 µs) or `RF-filtered` (100 µs). Junction stages that are not given are calibrated so that the rated surge from 25 °C stays below the fail temperature. Surge windows that are not given follow from the surge current.",
  },
  { title: "Clamp", path: ["clamp"], tables: ["clamp"], kinds: ["clamp"], prose: "`clamp` of the line, or of a load." },
  {
    title: "Series switch",
    path: ["series switch"],
    tables: ["series switch"],
    kinds: ["series switch"],
    prose: "Between the protected side and the radio side. Without `reclose` it stays open until reset.",
  },
  { title: "Loads", path: ["loads", "[]"], tables: ["load"], kinds: ["load"], prose: "" },
  {
    title: "Variants",
    path: ["variants", "[]"],
    tables: [],
    kinds: [],
    prose:
      "`variants` of the line; the word of a scheme may stand alone in place of the map. Beside these keys a variant has those of the line itself, with the values that are to change: `ambient`, `nodes`, `sources`, `loads`, `main fuse`, `crowbar`, `clamp`, `series switch`. More in [schemes side by side](compare.md).",
  },
];

/** Defaults that follow from other figures: by table and key. */
const rules: Readonly<Record<string, string>> = {
  "fuse.arc voltage": "the smaller of 1.1 × rated voltage and 35 V (common practice)",
  "series switch.arc voltage": "transistor 40 V, relay 15 V (common practice)",
  "series switch.extinction time": "transistor 1 µs, relay 10 µs (common practice)",
  "panel.knee voltage": "panel: open circuit voltage / 16 (common practice)",
  "load.knee voltage": "0.6 × set voltage of the first supply (common practice)",
  "load.input capacitance": "0 F for resistive loads and lamps",
  "battery.emf":
    "battery: set voltage of the first supply, else 12.8 V (common practice); with an EMF table and a written charge, from the table",
  "lead.spacing": "two insulated conductors side by side (assumed)",
  "lead.fuse holders": "1 with a fuse in the lead, else 0",
  "scenario.title": "empty",
  "scenario.question": "empty",
};

function mapAt(path: readonly string[]): MapShape {
  let shapes = shapesOf(scenarioSchema);
  for (const step of path) {
    shapes = shapes.flatMap((shape) => {
      if (shape.kind === "list" && step === "[]") return [...shape.item];
      return shape.kind === "map" ? [...(shape.keys.get(step) ?? [])] : [];
    });
  }
  const map = shapes.find((shape): shape is MapShape => shape.kind === "map");
  if (map === undefined) throw new Error(`no map at ${path.join(".")}`);
  return map;
}

/** Rows of a map's keys; maps inside it that have no chapter of their own follow as `outer: inner`. */
function rowsOf(map: MapShape, chapter: Chapter, prefix: readonly string[]): string[] {
  const own = new Set(chapters.filter(({ path }) => path.length > 0).map(({ path }) => path.at(-1)));
  const isVariant = chapter.title === "Variants";
  return [...map.keys].flatMap(([key, shapes]) => {
    // The keys of the line stand in the chapters before.
    if (isVariant && !VARIANTS_OWN.includes(key)) return [];
    const words = [...prefix, key];
    const hasChapter = (own.has(key) || key === "own crowbar" || key === "fuse") && chapter.path.at(-1) !== key;
    const value = hasChapter && !LISTS.includes(key) ? `see ${chapterOf(key)}` : shapes.map(valueText).join("; or ");
    const shown = LISTS.includes(key) ? `a list, see ${chapterOf(key)}` : value;
    const about = shapes.map(({ about: text }) => text).findLast((text) => text !== "" && text !== NONE) ?? "";
    const row = `| \`${words.join(": ")}\` | ${shown} | ${about} | ${defaultText(chapter, words) || leftOut(shapes, words, chapter)} |`;
    if (hasChapter || LISTS.includes(key)) return [row];
    const inner = shapes.flatMap((shape) => {
      if (shape.kind === "map") return rowsOf(shape, chapter, words);
      const item = shape.kind === "list" ? shape.item.find((one): one is MapShape => one.kind === "map") : undefined;
      return item === undefined ? [] : rowsOf(item, chapter, [...prefix, `${key} []`]);
    });
    return [row, ...inner];
  });
}

/** Keys of a variant that the line has not. */
const VARIANTS_OWN = ["name", "about", "scheme"];
const LISTS = ["sources", "loads", "variants"];

const NONE = "there is none, whatever the part class says";

/** Figures that a verdict can do without. */
const unknown = [
  "breaking capacity",
  "melting temperature",
  "current rise",
  "peak current",
  "temperature",
  "melting I2t",
];

function leftOut(shapes: readonly Shape[], words: readonly string[], chapter: Chapter): string {
  const key = words.at(-1) ?? "";
  if (key === "sources" || key === "loads" || key === "lead") return "must be given";
  if (words[0] === "ratings" && (key === "current" || key === "voltage")) return "unknown";
  if (unknown.includes(key)) return "unknown";
  if (key === "variants" || key === "about" || key === "scheme") return "none";
  if (words.length === 1 && key === "name" && chapter.title === "Variants") return "the word of its scheme";
  if (key === "label") return "name of the part class";
  if (key === "stages" || key === "junction stages") return "computed, see above";
  if (key === "minimum melting current") return "fitted";
  if (words[0] === "nodes") return "as below";
  const isPart = shapes.some(({ kind }) => kind === "part" || kind === "map" || kind === "list");
  if (isPart || shapes.some((shape) => shape.kind === "words" && shape.words.includes("none"))) return "none";
  return "must be given where it applies";
}

function chapterOf(key: string): string {
  const titles: Record<string, string> = {
    lead: "Leads",
    fuse: "Fuses",
    "main fuse": "Fuses",
    "own crowbar": "Crowbar",
  };
  const title = titles[key] ?? chapters.find(({ path }) => path.includes(key))?.title ?? key;
  return `[${title}](#${title.toLowerCase().replaceAll(" ", "-")})`;
}

function valueText(shape: Shape): string {
  switch (shape.kind) {
    case "map":
      return "a map";
    case "list":
      return "a list";
    case "words":
      return shape.words.map((word) => `\`${word}\``).join(", ");
    case "quantity":
      return [
        ...shape.words.map((word) => `\`${word}\``),
        `${shape.dimension}, \`${exampleOf(shape.dimension)}\``,
      ].join(" or ");
    case "part":
      return "name of a part class";
    default:
      return shape.kind;
  }
}

function defaultText(chapter: Chapter, words: readonly string[]): string {
  const own = chapter.tables.map((table) => ({ table, inner: words }));
  // What may stand in several places has a table by its own name, whichever chapter it is shown in.
  const [outer, ...rest] = words;
  const found = [...own, { table: outer, inner: rest }].flatMap(({ table, inner }) => {
    const rule = rules[`${table}.${inner.join(": ")}`];
    if (rule !== undefined) return [rule];
    return Object.entries(defaults)
      .filter(([name]) => {
        const path = name.startsWith(`${table}.`) ? name.slice(table.length + 1) : null;
        return path !== null && path.split(".").map(keyOf).join(": ") === inner.join(": ");
      })
      .map(([, cited]) => `${shownDefault(chapter, words, cited.value)} (${cited.mark}: ${cited.source})`);
  });
  const givers = parts.filter(
    (part) =>
      chapter.kinds.includes(part.kind) &&
      Object.keys(part.values).some((name) => name.split(".").map(keyOf).join(": ") === words.join(": ")),
  );
  const byPart = givers.length > 0 ? "part class" : "";
  return [byPart, found.join("; ")].filter((text) => text !== "").join(", else ");
}

function shownDefault(chapter: Chapter, words: readonly string[], value: number | string | boolean): string {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "string") return value;
  const holder = mapAt([...chapter.path, ...words.slice(0, -1)]);
  const quantity = (holder.keys.get(words.at(-1) ?? "") ?? []).find((shape) => shape.kind === "quantity");
  return quantity?.kind === "quantity" ? formatQuantity(value, quantity.dimension) : String(value);
}

function unitTable(): string {
  const rows = dimensions.map((dimension) => {
    const units = spellingsOf(dimension).filter((unit) => !/[\u03bc\u2126]/.test(unit));
    const shown = units.map((unit) => (unit === "" ? "without unit" : `\`${unit}\``)).join(" ");
    return `| ${dimension} | ${shown} | \`${exampleOf(dimension)}\` |`;
  });
  return ["| measures | units | example |", "|---|---|---|", ...rows].join("\n");
}

function curveTable(): string {
  const rows = Object.entries(withstandCurves).map(([name, { value, source, mark }]) => {
    const levels = value
      .map(({ voltage, time }) => `${formatQuantity(voltage, "voltage")} for ${formatQuantity(time, "time")}`)
      .join(", ");
    return `| \`${name}\` | ${levels === "" ? "none" : levels} | ${mark}: ${source} |`;
  });
  return ["| name | longest time allowed above | source |", "|---|---|---|", ...rows].join("\n");
}

/** The reference of scenario files as Markdown. */
export function scenarioFormat(): string {
  const intro = readFileSync(join(import.meta.dirname, "scenario-format-intro.md"), "utf8").trimEnd();
  const body = chapters.map((chapter) => {
    const rows = rowsOf(mapAt(chapter.path), chapter, []);
    const classes = chapter.kinds.flatMap((kind) => partNames(kind));
    const list = classes.length === 0 ? "" : `\nPart classes: ${classes.map((name) => `\`${name}\``).join(", ")}.\n`;
    const prose = chapter.prose === "" ? "" : `\n${chapter.prose}\n`;
    return `## ${chapter.title}\n${prose}\n| key | value | meaning | when left out |\n|---|---|---|---|\n${rows.join("\n")}\n${list}`;
  });
  return [
    intro,
    "",
    "## Units",
    "",
    unitTable(),
    "",
    ...body,
    "## Withstand curves by name",
    "",
    curveTable(),
    "",
  ].join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(join(import.meta.dirname, "../docs/scenario-format.md"), scenarioFormat());
}
