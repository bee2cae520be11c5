export { CaptureReader, LARGEST_CAPTURE, type ReadOptions, type ReadProgress, readCapture } from "./read/reader.ts";
export type {
  Capture,
  CapturedChannel,
  CaptureLayout,
  CaptureResult,
  ChannelLayout,
  LayoutCorrections,
  TimeColumn,
} from "./types.ts";
