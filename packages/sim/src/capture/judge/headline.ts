import { isCalledCurrent } from "../read/units.ts";
import { dimensionOf, extremeText } from "./measured.ts";
import type { CaptureJudgement, ChannelJudgement } from "./types.ts";

/**
 * What a capture shows, in a sentence: the limit that fares worst, else the peak of the first channel in volts, with what it may be off by.
 *
 * @example captureHeadline(judgeCapture(capture, { low: 11.7, high: 15.9 })) // The peak voltage of "radio", 14.73 V (true peak 14.57…14.81 V), stays within the limit of 15.9 V.
 */
export function captureHeadline(judgement: CaptureJudgement): string {
  const [worst] = worstFirst(judgement);
  if (worst === undefined) return "No channel was judged.";
  const { name, unit, highest, open, findings } = worst;
  if (findings.length > 0) return findings[0].sentence;
  const peak = extremeText(highest, dimensionOf(unit), "highest", { open: open.above, truth: true });
  return `The peak of "${name}" is ${peak}.`;
}

/** The channel of the headline, then the others as they would be it: by how they fare, of alike ones the higher; where no limit is held, voltages in their order. */
export function worstFirst({ channels }: CaptureJudgement): readonly ChannelJudgement[] {
  return channels.toSorted((a, b) => {
    const rank = rankOf(a);
    return rankOf(b) - rank || (rank > 1 ? b.highest.value - a.highest.value : 0);
  });
}

function rankOf({ findings, passed, tooClose, unit, name }: ChannelJudgement): number {
  if (findings.length > 0) return tooClose ? 3 : passed ? 4 : 2;
  return unit === "V" && !isCalledCurrent(name) ? 1 : 0;
}
