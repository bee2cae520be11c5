import { type Fuse, formatQuantity, largestDraws, meltingCurrentAt } from "@railfault/sim";
import type { LineNow } from "../../line/line.ts";
import { apart, capital, listed, the } from "./words.ts";

/** What a line's loads draw at their most. */
export interface Draw {
  readonly loads: readonly string[];
  /** A, all together. */
  readonly current: number;
  /** Whether any of them is of a class that tells what it draws while transmitting. */
  readonly transmits: boolean;
}

/** Common practice: for hours a fuse carries this much of its rating at 25 °C, and elsewhere as much less as it then melts at less. */
const LASTING = 0.75;

/** What the main fuse of a line must carry while its radios transmit, by their part classes; null where the line has errors. */
export function drawOnTransmit(now: LineNow): Draw | null {
  if (now.parsed.scenario === null) return null;
  const each = largestDraws(now.parsed);
  return {
    loads: each.map(({ load }) => load),
    current: each.reduce((sum, { current }) => sum + current, 0),
    transmits: each.some(({ transmits }) => transmits),
  };
}

export interface Holds {
  readonly holds: "yes" | "not for long" | "no";
  readonly tag: string;
  readonly tone: string;
  readonly sentence: string;
  /** What the loads draw, for the middle of a sentence: `the radio draws 21 A on transmit`. */
  readonly draws: string;
}

/**
 * Whether a fuse carries what the loads draw while they transmit.
 *
 * @param ambient °C
 */
export function holdsOnTransmit(fuse: Fuse, { loads, current, transmits }: Draw, ambient: number): Holds {
  const who = loads.length === 1 ? the(loads[0]) : `${listed(loads.map(the))} together`;
  const when = transmits ? "on transmit" : "at the most that this line tells";
  const drawing = (amount: string): string => `${who} ${loads.length === 1 ? "draws" : "draw"} ${amount} ${when}`;
  const draws = drawing(formatQuantity(current, "current"));
  const melts = meltingCurrentAt(fuse, ambient);
  const share = melts / fuse.minimumMeltingCurrent;
  const where = Math.abs(share - 1) < 0.005 ? "" : ` at ${formatQuantity(ambient, "temperature")}`;
  if (current >= melts) {
    const [drawn, melting] = apart(current, melts, "current");
    return {
      holds: "no",
      tag: "Would not hold",
      tone: "endangered",
      draws,
      sentence: `This fuse would not hold ${when} (${drawn}): it melts from about ${melting} on${where}.`,
    };
  }
  const lasting = fuse.ratedCurrent === null ? melts : LASTING * fuse.ratedCurrent * share;
  const [drawn, allowed] = apart(current, lasting, "current");
  const rule = `${formatQuantity(LASTING, "ratio")} of its rating, ${where === "" ? "" : `re-rated${where} `}${allowed},`;
  if (current > lasting)
    return {
      holds: "not for long",
      tag: "Not for long",
      tone: "withstood",
      draws,
      sentence: `${capital(drawing(drawn))}. Practice allows a fuse ${rule} for hours: this one would tire.`,
    };
  return {
    holds: "yes",
    tag: "Holds",
    tone: "safe",
    draws,
    sentence: `${capital(drawing(drawn))}, and practice allows this fuse ${allowed} for hours${where}.`,
  };
}
