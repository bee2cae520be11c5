/** How well a value is known, from best to least. */
export type Mark = "published" | "transcribed" | "computed" | "common practice" | "from memory" | "assumed";

/** A value in SI units (°C for temperatures) with where it comes from. */
export interface Cited<T = PartField> {
  readonly value: T;
  /** Publication, sheet, or the reasoning; a sentence fragment that a user can read. */
  readonly source: string;
  /** How well it is known. */
  readonly mark: Mark;
}

/** A value of a part class: quantities in SI units, words, lists of points. */
export type PartField = number | string | boolean | null | readonly object[];

/** What a part class is of. */
export type PartKind =
  | "fuse"
  | "crowbar"
  | "supply"
  | "charger"
  | "battery"
  | "panel"
  | "load"
  | "clamp"
  | "series switch"
  | "insulation";

/**
 * A class of parts, named by what it is and its rating (`blade fuse 20 A`). The keys of `values` are the dotted paths of
 * the scenario's own fields (`coldResistance`, `ratings.surgeCurrent`, `limit.style`); a class may leave some out.
 */
export interface PartClass {
  readonly kind: PartKind;
  /** As a scenario file writes it behind `part:`. */
  readonly name: string;
  /** One line for the list of parts. */
  readonly about: string;
  readonly values: Readonly<Record<string, Cited>>;
}
