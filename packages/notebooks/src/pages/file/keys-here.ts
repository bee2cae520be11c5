import { type PartKind, partNames, scenarioJsonSchema } from "@railfault/sim";
import type { Path } from "../../kept/state.ts";

/** What may be said of one key. */
export interface KeyHelp {
  readonly key: string;
  /** What it means. */
  readonly about: string;
  /** Words and names that may stand there; empty where a value or a text is wanted. */
  readonly allowed: readonly string[];
  /** A value with its unit, such as may stand there; null for names, words and maps. */
  readonly example: string | null;
  /** It holds keys of its own, or a list of such. */
  readonly holds: "value" | "keys" | "list";
  readonly required: boolean;
}

interface Node {
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly examples?: readonly string[];
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
  readonly required?: readonly string[];
}

/** Part classes by the word in brackets that the schema's descriptions end with, or by the list that they stand in. */
const kinds: Readonly<Record<string, readonly PartKind[]>> = {
  fuse: ["fuse"],
  crowbar: ["crowbar"],
  clamp: ["clamp"],
  "series switch": ["series switch"],
  insulation: ["insulation"],
  sources: ["supply", "charger", "battery", "panel"],
  loads: ["load"],
};

/** The keys of the scenario format, place by place. */
export class FormatHelp {
  // Made once: a cursor moves often.
  private readonly whole = scenarioJsonSchema() as Node;

  /**
   * The keys that the map at a path may have; empty where no map may stand.
   *
   * @example new FormatHelp().keysAt(["crowbar"]).map(({ key }) => key) // ["part", "trip voltage", …]
   */
  keysAt(path: Path): readonly KeyHelp[] {
    return this.nodesAt(path).flatMap((node) =>
      Object.entries(node.properties ?? {}).map(([key, inner]) => helpOf(key, inner, path, node.required ?? [])),
    );
  }

  private nodesAt(path: Path): readonly Node[] {
    return path.reduce<readonly Node[]>(
      (nodes, step) =>
        nodes.flatMap((node) => {
          const inner = typeof step === "number" ? node.items : ownKey(node.properties, step);
          return inner === undefined ? [] : branches(inner);
        }),
      [this.whole],
    );
  }
}

function ownKey(properties: Node["properties"], key: string): Node | undefined {
  return properties !== undefined && Object.hasOwn(properties, key) ? properties[key] : undefined;
}

function branches(node: Node): readonly Node[] {
  return node.anyOf === undefined ? [node] : node.anyOf.flatMap(branches);
}

function helpOf(key: string, node: Node, path: Path, required: readonly string[]): KeyHelp {
  const all = branches(node);
  const about = node.description ?? all.find(({ description }) => description !== undefined)?.description ?? "";
  const words = all.flatMap((each) => [...(each.enum ?? []), ...(each.const === undefined ? [] : [each.const])]);
  const names = all.flatMap(({ description = "" }) => classesOf(description, path));
  const holds = all.some(({ items }) => items !== undefined)
    ? "list"
    : all.some(({ properties }) => properties !== undefined)
      ? "keys"
      : "value";
  return {
    key,
    about,
    allowed: [...new Set([...words.filter((word) => typeof word === "string"), ...names])],
    example: all.flatMap(({ examples }) => examples ?? [])[0] ?? null,
    holds,
    required: required.includes(key),
  };
}

function classesOf(description: string, path: Path): readonly string[] {
  if (!/^name of an? (part|insulation) class/.test(description)) return [];
  const word = /\(([^()]+)\)/.exec(description)?.[1] ?? (description.includes("insulation") ? "insulation" : path[0]);
  return (kinds[String(word)] ?? []).flatMap(partNames);
}
