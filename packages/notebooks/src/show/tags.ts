import { endangeredLater, type Finding, type Severity, type Verdict } from "@railfault/sim";

export type VerdictTone = "safe" | "withstood" | "endangered" | "close" | "none";

export interface Tag {
  readonly tone: VerdictTone;
  readonly words: string;
}

/** The verdict on the radio in a word or two: always written, never told by a colour alone. */
export function tagOf(verdict: Verdict): Tag {
  if (verdict.kind !== "verdict") return { tone: "none", words: "No verdict" };
  // What a radio has not survived yet it may still not survive; what is beyond stays so.
  if (verdict.stoppedAt !== null && verdict.grade !== "beyond") return { tone: "close", words: "Stopped early" };
  if (verdict.tooClose.length > 0) return { tone: "close", words: "Too close to call" };
  const several = verdict.loads.length > 1;
  if (verdict.grade === "beyond")
    return { tone: "endangered", words: several ? "A radio endangered" : "Radio endangered" };
  const who = several ? "Radios" : "Radio";
  if (endangeredLater(verdict.pending))
    return { tone: "withstood", words: `${who} ${verdict.grade === "withstood" ? "withstood it" : "safe"} so far` };
  if (verdict.grade === "withstood") return { tone: "withstood", words: `${who} withstood it` };
  return { tone: "safe", words: `${who} safe` };
}

const severityTones: Readonly<Record<Severity, VerdictTone>> = {
  ok: "safe",
  withstood: "withstood",
  "used up": "withstood",
  beyond: "endangered",
  unknown: "endangered",
  "not rated": "none",
};

/** How one limit came off. */
export function tagOfFinding({ severity, close }: Finding): Tag {
  return close ? { tone: "close", words: "too close" } : { tone: severityTones[severity], words: severity };
}

/** `×1.3`; more digits near 1, where the side matters; a dash where nothing can be said. */
export function headroomWords(headroom: number | null): string {
  if (headroom === null) return "–";
  if (headroom >= 1000) return "> ×999";
  const off = Math.abs(headroom - 1);
  return `×${Number(headroom.toPrecision(off < 0.005 ? 5 : off < 0.1 ? 3 : 2))}`;
}
