export { readCorrections, type WrittenCorrections } from "./corrections.ts";
export { captureHeadline } from "./judge/headline.ts";
export { judgeCapture } from "./judge/judge.ts";
export { extremeText, lengthText, measuredText } from "./judge/measured.ts";
export { judgementCsv } from "./judge/table.ts";
export { beyondInShort, channelSentences, renderJudgement, tripsInShort } from "./judge/text.ts";
export type {
  CaptureJudgement,
  CaptureLimits,
  ChannelJudgement,
  Extreme,
  FlatTop,
  Measured,
  Resolution,
  Ringing,
  Slope,
  TimeBeyond,
  Trips,
} from "./judge/types.ts";
export { layoutLines, renderLayout } from "./layout-text.ts";
export { type CapturePart, captureData } from "./picture.ts";
export { CaptureReader, LARGEST_CAPTURE, type ReadOptions, type ReadProgress, readCapture } from "./read/reader.ts";
export type {
  Capture,
  CapturedChannel,
  CaptureLayout,
  CaptureResult,
  ChannelLayout,
  Delimiter,
  LayoutCorrections,
  OutOfRange,
  PreambleLine,
  TimeColumn,
} from "./types.ts";
