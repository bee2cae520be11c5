import type * as z from "zod/mini";
import { allowedText, type Dimension } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import { aboutOf } from "./build.ts";
import type { Range } from "./leaf.ts";
import { scenarioSchema } from "./scenario.ts";

/** What the schema says of one place, without the machinery of the library. */
export type Shape =
  | {
      readonly kind: "map";
      readonly about: string;
      readonly keys: ReadonlyMap<string, readonly Shape[]>;
      readonly required: readonly string[];
    }
  | { readonly kind: "list"; readonly about: string; readonly item: readonly Shape[] }
  | { readonly kind: "words"; readonly about: string; readonly words: readonly string[] }
  | { readonly kind: "yes or no"; readonly about: string }
  | { readonly kind: "count"; readonly about: string }
  | {
      readonly kind: "quantity";
      readonly about: string;
      readonly dimension: Dimension;
      /** Which numbers of that kind may stand there. */
      readonly range: Range;
      readonly words: readonly string[];
    }
  | { readonly kind: "part"; readonly about: string; readonly part: string }
  | { readonly kind: "text"; readonly about: string };

interface LeafMeta {
  readonly description?: string;
  readonly dimension?: Dimension;
  readonly range?: Range | "count";
  readonly words?: readonly string[];
  readonly part?: string;
  readonly flag?: boolean;
  readonly required?: readonly string[];
}

/** The alternatives at one place of the schema, unions flattened. */
export function shapesOf(schema: z.core.$ZodType): Shape[] {
  // What is told is what leaf.ts and the schema files put there.
  const meta = aboutOf(schema) as LeafMeta;
  const about = meta.description ?? "";
  const def = (schema as z.core.$ZodTypes)._zod.def;
  switch (def.type) {
    case "optional":
      return shapesOf(def.innerType);
    case "pipe":
      return shapesOf(def.in);
    case "union":
      return def.options.flatMap((option) => shapesOf(option));
    case "object": {
      const keys = new Map(Object.entries(def.shape).map(([key, inner]) => [key, shapesOf(inner)] as const));
      return [{ kind: "map", about, keys, required: meta.required ?? [] }];
    }
    case "record":
      // Its keys are the user's own.
      return [{ kind: "map", about, keys: new Map(), required: [] }];
    case "array":
      return [{ kind: "list", about, item: shapesOf(def.element) }];
    case "enum":
      if (meta.flag === true) return [{ kind: "yes or no", about }];
      return [{ kind: "words", about, words: Object.values(def.entries).map(String) }];
    case "literal":
      return [{ kind: "words", about, words: def.values.map(String) }];
    default:
      if (meta.range === "count") return [{ kind: "count", about }];
      if (meta.dimension !== undefined)
        return [
          {
            kind: "quantity",
            about,
            dimension: meta.dimension,
            range: meta.range ?? "any",
            words: meta.words ?? [],
          },
        ];
      if (meta.part !== undefined) return [{ kind: "part", about, part: meta.part }];
      return [{ kind: "text", about }];
  }
}

/** Walked once: a page asks for dozens of places with every change. */
const WHOLE: readonly Shape[] = shapesOf(scenarioSchema);

/** The alternatives at a path of a scenario. */
export function shapesAt(path: Path): readonly Shape[] {
  let shapes = WHOLE;
  for (const step of path) {
    shapes = shapes.flatMap((shape): readonly Shape[] => {
      if (shape.kind === "list" && typeof step === "number") return shape.item;
      if (shape.kind === "map" && typeof step === "string") return shape.keys.get(step) ?? [];
      return [];
    });
  }
  return shapes;
}

/** The keys that the map at a path may have. */
export function keysAt(path: Path): string[] {
  return shapesAt(path).flatMap((shape) => (shape.kind === "map" ? [...shape.keys.keys()] : []));
}

/** What may stand at a path: as a sentence fragment, and the words among it. */
export function expectedAt(path: Path): { text: string; words: string[] } {
  const shapes = shapesAt(path);
  const words = shapes.flatMap((shape) => {
    if (shape.kind === "words" || shape.kind === "quantity") return shape.words;
    return shape.kind === "yes or no" ? ["yes", "no"] : [];
  });
  const texts = shapes.map((shape) => {
    if (shape.kind === "map") return `a map with ${[...shape.keys.keys()].join(", ")}`;
    if (shape.kind === "list") return "a list (one line with `- ` for each entry)";
    if (shape.kind === "quantity") return [...shape.words, allowedText(shape.dimension)].join(", ");
    if (shape.kind === "count") return "a whole number";
    if (shape.kind === "part") return `the name of a part class (${shape.part})`;
    if (shape.kind === "words") return shape.words.join(" | ");
    return shape.kind === "yes or no" ? "yes or no" : "text";
  });
  return { text: texts.join("; or "), words };
}
