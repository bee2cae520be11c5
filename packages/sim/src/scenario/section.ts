import { type Dimension, formatQuantity } from "../units/index.ts";
import { defaults } from "./defaults.ts";
import { keyOf, type Path, pathText } from "./keys.ts";
import { findPart, partNames, parts } from "./parts/index.ts";
import type { Cited, PartClass, PartKind } from "./parts/types.ts";
import { expectedAt } from "./schema/walk.ts";
import type { Sheet } from "./sheet.ts";

export type Written = Readonly<Record<string, unknown>>;

/** Where a section finds what its map does not say. */
export interface Sources {
  /** In sentences and labels: `main fuse`, `bench supply: lead`. */
  readonly noun: string;
  /** Name of the table of defaults. */
  readonly table: string;
  readonly part: PartClass | null;
  /** A class was named that does not exist: what it would have given is not missed a second time. */
  readonly unknownPart: boolean;
  /** Kinds of classes that would help. */
  readonly kinds: readonly PartKind[];
  /** Dotted path of the section inside part and defaults, with a final dot unless empty. */
  readonly prefix: string;
}

/**
 * One map of the file while it becomes a part of the complete scenario. A value is what the map says, else what the part
 * class says, else the default; where none says it, it is missing. Whatever the map does not say is written down as an
 * origin; keys that nobody asked for are reported as having no effect.
 */
export class Section {
  /** Fields. */
  private readonly asked: string[] = [];

  constructor(
    readonly sheet: Sheet,
    readonly path: Path,
    readonly written: Written,
    readonly sources: Sources,
  ) {}

  /** A number in SI units; NaN where it is missing or spoilt, which has then been reported. */
  number(field: string, dimension: Dimension, rule: Cited<number> | null = null): number {
    return this.numberOrNull(field, dimension, rule) ?? this.missing(field, Number.NaN);
  }

  /** A number that may be unknown. */
  numberOrNull(field: string, dimension: Dimension, rule: Cited<number> | null = null): number | null {
    const value = this.find(field, rule, (found) => formatQuantity(Number(found), dimension, { digits: 5 }));
    if (value === SPOILT) return Number.NaN;
    return typeof value === "number" ? value : null;
  }

  word<Word extends string>(field: string, allowed: readonly Word[], rule: Cited<Word> | null = null): Word | null {
    const value = this.find(field, rule, String);
    if (value === SPOILT) return null;
    const word = allowed.find((candidate) => candidate === value);
    return word ?? this.missing(field, null);
  }

  flag(field: string): boolean {
    const value = this.find(field, null, (found) => (found === true ? "yes" : "no"));
    return value === true;
  }

  text(field: string): string | null {
    const value = this.find(field, null, String);
    return typeof value === "string" ? value : null;
  }

  list(field: string): readonly Written[] | null {
    const value = this.find(field, null, (found) => (Array.isArray(found) ? `${found.length} entries` : String(found)));
    return Array.isArray(value) ? value : null;
  }

  /** The written value of a key as it is, asked for; undefined where nothing stands. */
  raw(field: string): unknown {
    this.asked.push(field);
    return this.written[keyOf(field)];
  }

  /** A map inside this one that shares its part class; null where there is none, by word or because nobody speaks of it. */
  child(field: string, always = false): Section | null {
    const value = this.raw(field);
    const prefix = `${this.sources.prefix}${field}.`;
    const path = [...this.path, keyOf(field)];
    if (value === "none" || this.sheet.isSpoilt(path)) return null;
    const map = isMap(value) ? value : {};
    const known =
      this.sources.part !== null && Object.keys(this.sources.part.values).some((key) => key.startsWith(prefix));
    if (!isMap(value) && !known && !always) return null;
    return new Section(this.sheet, path, map, { ...this.sources, prefix });
  }

  /** Reports the keys that nothing asked for. */
  finish(because: string): void {
    const asked = new Set(this.asked.map(keyOf));
    for (const key of Object.keys(this.written)) {
      if (asked.has(key)) continue;
      this.sheet.error("key-without-effect", [...this.path, key], `\`${key}\` has no effect ${because}.`, {
        allowed: [...asked].join(" | "),
        hint: "delete the line, or say what it belongs to",
        received: key,
        at: "key",
      });
    }
  }

  get label(): string {
    return this.sources.noun;
  }

  private find(field: string, rule: Cited<unknown> | null, show: (value: unknown) => string): unknown {
    this.asked.push(field);
    const key = keyOf(field);
    const path = [...this.path, key];
    if (this.sheet.isSpoilt(path)) return SPOILT;
    const written = this.written[key];
    if (written !== undefined) return written;
    const dotted = `${this.sources.prefix}${field}`;
    const { part, table } = this.sources;
    const ownDefault = `${table}.${dotted}`;
    const ofPart = part !== null && Object.hasOwn(part.values, dotted) ? part.values[dotted] : null;
    const cited = ofPart ?? rule ?? (Object.hasOwn(defaults, ownDefault) ? defaults[ownDefault] : null);
    if (cited === null || cited.value === null) return null;
    const place = pathText(path);
    if (typeof cited.value === "number") this.sheet.amounts.set(place, cited.value);
    this.write(place, this.words(key), show(cited.value), cited, cited === ofPart ? (part?.name ?? null) : null);
    return cited.value;
  }

  /** Writes down where a value came from that the file does not state. */
  note(
    field: string,
    value: string,
    cited: Pick<Cited<unknown>, "source" | "mark">,
    partClass: string | null = null,
  ): void {
    const key = keyOf(field);
    this.write(pathText([...this.path, key]), this.words(key), value, cited, partClass);
  }

  private write(
    path: string,
    words: string,
    value: string,
    { source, mark }: Pick<Cited<unknown>, "source" | "mark">,
    partClass: string | null,
  ): void {
    this.sheet.origins.push({ path, label: `${this.sources.noun}: ${words}`, value, source, mark, partClass });
  }

  /** A key behind those of the maps around it. */
  private words(key: string): string {
    const { prefix } = this.sources;
    return prefix === "" ? key : [...prefix.split(".").slice(0, -1).map(keyOf), key].join(", ");
  }

  private missing<T>(field: string, instead: T): T {
    const key = keyOf(field);
    const dotted = `${this.sources.prefix}${field}`;
    if (this.sources.unknownPart || this.sheet.isSpoilt(this.path)) return instead;
    const helpful = parts.filter(
      (part) =>
        this.sources.kinds.includes(part.kind) &&
        Object.hasOwn(part.values, dotted) &&
        part.values[dotted].value !== null,
    );
    const names = helpful.slice(0, 6).map((part) => `\`${part.name}\``);
    const more = helpful.length > names.length ? " and others" : "";
    const byPart = names.length > 0 ? `, or take a part class that gives it: ${names.join(", ")}${more}` : "";
    const words = dotted.split(".").map(keyOf);
    const line = words.reduceRight((inner, word) => (inner === "" ? `${word}: …` : `${word}: {${inner}}`), "");
    this.sheet.error(
      "missing",
      [...this.path, key],
      `The value \`${words.join(": ")}\` of ${this.sources.noun} is missing; it has no default.`,
      {
        received: null,
        allowed: expectedAt([...this.path, key]).text,
        hint: `write \`${line}\`${byPart}`,
      },
    );
    return instead;
  }
}

const SPOILT = Symbol("spoilt");

export function isMap(value: unknown): value is Written {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What stands for a part in the file: its name, or a map that may name it. */
export function openSection(
  sheet: Sheet,
  path: Path,
  value: unknown,
  about: { readonly noun: string; readonly table: string; readonly kinds: readonly PartKind[] },
): Section {
  const isName = typeof value === "string";
  const written: Written = isName ? {} : isMap(value) ? value : {};
  const name = isName ? value : written.part;
  const part = typeof name === "string" ? findNamed(sheet, isName ? path : [...path, "part"], name, about.kinds) : null;
  const unknownPart = (typeof name === "string" && part === null) || sheet.isSpoilt([...path, "part"]);
  const section = new Section(sheet, path, written, { ...about, part, unknownPart, prefix: "" });
  section.raw("part");
  return section;
}

function findNamed(sheet: Sheet, path: Path, name: string, kinds: readonly PartKind[]): PartClass | null {
  for (const kind of kinds) {
    const part = findPart(kind, name);
    if (part !== null) return part;
  }
  const known = kinds.flatMap((kind) => partNames(kind));
  sheet.unknownName("unknown-part", path, `There is no part class \`${name}\` for this.`, name, known, "value");
  return null;
}
