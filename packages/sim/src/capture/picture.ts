import type { CaptureFigureChannel, CaptureFigureData, CapturePiece } from "../report/figure/capture-types.ts";
import { firstNotBefore } from "../trace/place.ts";
import { minMaxSample } from "../trace/sample.ts";
import { formatQuantity, groupDigits } from "../units/index.ts";
import { duration } from "../verdict/words.ts";
import { type Curve, curveOf } from "./judge/curve.ts";
import { captureHeadline, worstFirst } from "./judge/headline.ts";
import { dimensionOf, extremeText } from "./judge/measured.ts";
import type { CaptureJudgement, ChannelJudgement } from "./judge/types.ts";
import type { Capture } from "./types.ts";

/** Which part of a capture a picture shows, and how finely. */
export interface CapturePart {
  /** First time to show, s as recorded; left out: that of the capture. */
  readonly from?: number;
  /** Last time to show, s as recorded; left out: that of the capture. */
  readonly to?: number;
  /** In how many columns extremes are kept apart, a whole number ≥ 1 (default 1200). */
  readonly columns?: number;
}

/** Beyond so many pieces gaps are no longer told apart in a picture. */
const MOST_PIECES = 400;

/**
 * A capture's figure as plain data, with the lowest and the highest value of each column kept, so that a worker can hand over millions of samples as a picture.
 *
 * @param capture one that was read
 * @param judgement of the same capture: title, levels and highest values
 * @param part what of it to show; times beyond the recording are taken back into it
 * @returns curves in V or A over s as recorded
 * @example captureFigure(captureData(capture, judgeCapture(capture, { low: 11.7, high: 15.9 })), { document })
 */
export function captureData(capture: Capture, judgement: CaptureJudgement, part: CapturePart = {}): CaptureFigureData {
  const { time, layout } = capture;
  const [first, last] = [time[0], time[time.length - 1]];
  const within = (at: number): number => Math.min(last, Math.max(first, at));
  const wished = [within(part.from ?? first), within(part.to ?? last)] as const;
  const [from, to] = wished[1] > wished[0] ? wished : [first, last];
  const synthetic = layout.preamble.some(({ value }) => /\bsynthetic\b/i.test(value));
  const order = worstFirst(judgement);
  const channels = capture.channels.map((channel, k): CaptureFigureChannel => {
    const judged = judgement.channels[k];
    const { value, time: at } = judged.highest;
    const dimension = dimensionOf(channel.unit);
    return {
      label: channel.name,
      unit: channel.unit,
      pieces: piecesOf(curveOf(time, channel, capture.interval, capture.timeGrain), from, to, part.columns ?? 1200),
      levels: judged.beyond.map(({ limit, excursion: { level } }) => ({
        value: level,
        label: `${limit === "high" ? "upper" : "lower"} limit ${formatQuantity(level, dimension, { digits: 4 })}`,
      })),
      highest: at >= from && at <= to ? { time: at, value, label: highestLabel(judged) } : null,
      rank: order.indexOf(judged),
    };
  });
  const since = layout.time?.from == null ? "" : `, the first at ${layout.time.from} by the file's clock`;
  const samples = `${groupDigits(String(judgement.rows))} samples, one every ${duration(judgement.interval)}${since}`;
  return {
    title: `${synthetic ? "Synthetic capture" : "Captured"}: ${capture.file}`,
    subtitle: captureHeadline(judgement),
    facts: synthetic ? `${samples}. Synthetic: simulated and seen through an instrument, not measured.` : `${samples}.`,
    from,
    to,
    channels,
  };
}

function highestLabel({ highest, unit, open }: ChannelJudgement): string {
  return extremeText(highest, dimensionOf(unit), "highest", { open: open.above, truth: false });
}

function piecesOf({ time, values, pieces }: Curve, from: number, to: number, columns: number): CapturePiece[] {
  const parts = pieces.length > MOST_PIECES ? [[0, values.length] as const] : pieces;
  return parts.flatMap(([first, end]): CapturePiece[] => {
    // One sample more on each side, so that lines go on to the edge.
    const start = Math.max(first, firstNotBefore(time, from, first, end) - 1);
    const stop = Math.min(end, firstNotBefore(time, to, first, end) + 1);
    if (stop <= start || time[start] > to || time[stop - 1] < from) return [];
    const share = (time[stop - 1] - time[start]) / (to - from);
    const kept = minMaxSample(
      time.subarray(start, stop),
      values.subarray(start, stop),
      Math.max(1, Math.ceil(columns * Math.min(1, share))),
    );
    return [{ time: kept.positions, values: kept.values }];
  });
}
