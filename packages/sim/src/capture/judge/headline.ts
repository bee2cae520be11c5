import { isCalledCurrent } from "../read/units.ts";
import { dimensionOf, extremeText } from "./measured.ts";
import type { CaptureJudgement } from "./types.ts";

/**
 * What a capture shows, in a sentence: the limit that fares worst, else the peak of the first channel in volts, with what it may be off by.
 *
 * @example captureHeadline(judgeCapture(capture, { low: 11.7, high: 15.9 })) // The peak voltage of "radio", 14.73 V (true peak 14.57…14.81 V), stays within the limit of 15.9 V.
 */
export function captureHeadline({ channels }: CaptureJudgement): string {
  const held = channels.filter(({ findings }) => findings.length > 0);
  const rank = ({ passed, tooClose }: (typeof held)[number]): number => (passed && !tooClose ? 2 : tooClose ? 1 : 0);
  const [worst] = held.toSorted((a, b) => rank(b) - rank(a) || b.highest.value - a.highest.value);
  if (worst !== undefined) return worst.findings[0].sentence;
  const shown = channels.find(({ unit, name }) => unit === "V" && !isCalledCurrent(name)) ?? channels[0];
  if (shown === undefined) return "No channel was judged.";
  const { name, unit, highest, open } = shown;
  const peak = extremeText(highest, dimensionOf(unit), "highest", { open: open.above, truth: true });
  return `The peak of "${name}" is ${peak}.`;
}
