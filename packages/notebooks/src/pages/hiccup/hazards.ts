import type { Finding, Verdict } from "@railfault/sim";
import { besideOf } from "../../show/beside.ts";
import type { Note } from "./card.ts";

/** What else a run hurts or sets on fire. */
export interface Hazard {
  /** As on the pages that tell a verdict. */
  readonly tag: string;
  /** Whether something may burn. */
  readonly burns: boolean;
}

const passed = ({ hazard, severity }: Finding): boolean =>
  hazard !== null || severity === "beyond" || severity === "unknown";

/** Null where nothing outside the loads passes what it is made for. */
export function hazardOf(verdict: Verdict): Hazard | null {
  if (verdict.kind !== "verdict" || !verdict.findings.some(passed)) return null;
  const tag = besideOf(verdict).find(({ tone }) => tone === "endangered");
  return tag === undefined ? null : { tag: tag.words, burns: verdict.findings.some(({ hazard }) => hazard !== null) };
}

/** What a card says of it: the sentences of what may burn, else of what passed its rating. */
export function hazardNotes(verdict: Verdict): readonly Note[] {
  const hazard = hazardOf(verdict);
  if (hazard === null || verdict.kind !== "verdict") return [];
  const meant = verdict.findings.filter((finding) => (hazard.burns ? finding.hazard !== null : passed(finding)));
  return [
    {
      label: hazard.burns ? "What may burn" : "What else is hurt",
      mark: { tag: hazard.tag, tone: "endangered" },
      sentence: meant.map(({ sentence }) => sentence).join(" "),
    },
  ];
}
