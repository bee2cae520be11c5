import type { Headed } from "../chart-types.ts";
import type { Tone } from "../types.ts";

/** A 12 V line as it is wired, at one instant. Texts carry their units. */
export interface LineDiagramData extends Headed {
  readonly sources: readonly LineBranch[];
  readonly mainFuse: LinePart | null;
  /** From the protected side to ground: SCR, clamp. */
  readonly across: readonly LinePart[];
  readonly seriesSwitch: LinePart | null;
  readonly loads: readonly LineBranch[];
  /** What a meter shows before and behind the main fuse and behind the series switch; null: not told, or no such side. */
  readonly readings: {
    readonly supplySide: string | null;
    readonly protectedSide: string | null;
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
  readonly kind: LinePartKind;
  readonly name: string;
  /** What it is, the most telling first. */
  readonly details: readonly string[];
  /** Written as a tag; null: it has none to tell. */
  readonly state: { readonly text: string; readonly tone: Tone } | null;
  /** What a meter shows there; null: not told. */
  readonly reading: string | null;
}

/** A source or load with its lead. */
export interface LineBranch {
  readonly part: LinePart;
  /** Length and gauge, or what else is known: `1.5 m, 6 mm²`. */
  readonly lead: string;
  /** In the lead, from the part towards the line: contact, fuse, diode. */
  readonly inLead: readonly LinePart[];
  /** Across the part's own terminals: its own SCR or clamp. */
  readonly across: readonly LinePart[];
}
