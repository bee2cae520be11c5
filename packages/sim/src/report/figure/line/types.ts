import type { Headed } from "../chart-types.ts";
import type { Tone } from "../types.ts";

/** A 12 V line as it is wired, at one instant. Texts carry their units. */
export interface LineDiagramData extends Headed {
  /** From top to bottom. */
  readonly sources: readonly LineBranch[];
  /** Null: supply side and protected side are one node. */
  readonly mainFuse: LinePart | null;
  /** From the protected side to ground: SCR, clamp. */
  readonly across: readonly LinePart[];
  /** Null: protected side and radio side are one node. */
  readonly seriesSwitch: LinePart | null;
  /** From top to bottom. */
  readonly loads: readonly LineBranch[];
  /** What meters show; null: not told, or no such side. */
  readonly readings: {
    /** Before the main fuse. */
    readonly supplySide: string | null;
    /** Behind the main fuse. */
    readonly protectedSide: string | null;
    /** Behind the series switch. */
    readonly radioSide: string | null;
  };
}

/** Which symbol a part has. */
export type LinePartKind =
  | "supply"
  | "battery"
  | "panel"
  | "load"
  | "fuse"
  | "contact"
  | "diode"
  | "SCR"
  | "clamp"
  | "transistor"
  | "relay";

/** One symbol of the line's diagram, with its words. */
export interface LinePart {
  /** Which symbol is drawn. */
  readonly kind: LinePartKind;
  /** Written above the symbol. */
  readonly name: string;
  /** What it is, the most telling first. */
  readonly details: readonly string[];
  /** What it does, written as a tag in the colour of its tone; null: it has none to tell. */
  readonly state: { readonly text: string; readonly tone: Tone } | null;
  /** What a meter shows there; null: not told. */
  readonly reading: string | null;
}

/** A source or load with its lead. */
export interface LineBranch {
  /** The source or load itself. */
  readonly part: LinePart;
  /** Length and gauge, or what else is known: `1.5 m, 6 mm²`. */
  readonly lead: string;
  /** In the lead, from the part towards the line: contact, fuse, diode. */
  readonly inLead: readonly LinePart[];
  /** Across the part's own terminals: its own SCR or clamp. */
  readonly across: readonly LinePart[];
}
