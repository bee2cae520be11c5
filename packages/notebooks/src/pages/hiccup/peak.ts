import type { LoadVerdict } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import type { Note } from "./card.ts";
import { apart, capital, listed, small, the } from "./words.ts";

/** The largest voltage at the load that fares worst, held against its limit. */
export interface PeakSeen {
  readonly load: string;
  readonly grade: LoadVerdict["grade"];
  /** V. */
  readonly peak: number;
  /** Largest voltage that it is made for, V. */
  readonly limit: number;
}

const ORDER: readonly LoadVerdict["grade"][] = ["inside", "withstood", "beyond"];

const worse = (a: PeakSeen, b: PeakSeen): number =>
  ORDER.indexOf(b.grade) - ORDER.indexOf(a.grade) || b.peak / b.limit - a.peak / a.limit;

/** Null where there is no verdict. */
export function peakOf({ verdict }: Pick<Answer, "verdict">): PeakSeen | null {
  if (verdict.kind !== "verdict") return null;
  const seen = verdict.loads.map(({ name, grade, peak, maximum }) => ({
    load: name,
    grade,
    peak: peak.value,
    limit: maximum,
  }));
  return seen.toSorted(worse)[0] ?? null;
}

export interface PeakTold {
  readonly sentence: string;
  /** Null where it stays below its limit, which needs no mark. */
  readonly mark: { readonly tag: string; readonly tone: string } | null;
}

/** `relay radio: 15 V at most, limit 15.9 V`, marked where it is above. */
export function peakTold(seen: PeakSeen): PeakTold {
  const sentence = `${seen.load}: ${heights(seen)}`;
  if (seen.grade === "inside") return { sentence, mark: null };
  const beyond = seen.grade === "beyond";
  return {
    sentence: `${sentence}${beyond ? "" : "; it stands that for so long"}`,
    mark: { tag: "Above its limit", tone: beyond ? "endangered" : "withstood" },
  };
}

function heights({ peak, limit }: PeakSeen): string {
  const [most, allowed] = apart(peak, limit, "voltage");
  return `${most} at most, limit ${allowed}`;
}

/** What a card says of the radio's voltage. */
export const peakNote = (seen: PeakSeen): Note => ({ label: "Its voltage", ...peakTold(seen) });

/** Whether a radio is in danger in any of several runs. */
export interface Danger {
  readonly tag: string;
  readonly tone: string;
  readonly sentence: string;
}

export function dangerOf(runs: readonly { readonly label: string; readonly seen: PeakSeen }[]): Danger {
  const worst = runs.map(({ seen }) => seen).toSorted(worse)[0];
  const alike = runs.filter(({ seen }) => seen.grade === worst.grade).map(({ label }) => small(label));
  const which = alike.length === runs.length ? `each of these ${runs.length} limit styles` : listed(alike);
  const end = `with ${which} (${heights(worst)}).`;
  const who = the(worst.load);
  const start = capital(who);
  switch (worst.grade) {
    case "inside":
      return {
        tag: "Radio not in danger",
        tone: "safe",
        sentence: `${start} never sees more than it is made for: ${heights(worst)}.`,
      };
    case "withstood":
      return {
        tag: "Radio withstands it",
        tone: "withstood",
        sentence: `${start} sees more than its limit, within what it stands, ${end}`,
      };
    case "beyond":
      return { tag: "Radio endangered", tone: "endangered", sentence: `${start} sees more than it stands ${end}` };
  }
}
