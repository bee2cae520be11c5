import { wrap } from "../report/text-wrap.ts";
import { formatQuantity } from "../units/index.ts";
import type { CaptureLayout, ChannelLayout } from "./types.ts";

/** What was understood of a file, as text for a person to confirm or correct. */
export function renderLayout(layout: CaptureLayout, understood: readonly string[], width: number): string {
  return `${["Understood", ...understood.map((sentence) => wrap(sentence, width, "  ", "    ")), ...layoutLines(layout).map((line) => `  ${line}`)].join("\n")}\n`;
}

/** The layout in short, a line a column, the way `--channel` takes it back. */
export function layoutLines({ time, interval, channels }: CaptureLayout): readonly string[] {
  const first =
    time === null
      ? `time: ${interval === null ? "unknown" : `a sample every ${formatQuantity(interval, "time", { digits: 6 })}`}`
      : `time: column ${time.column}, ${time.unit === "" ? "s (assumed: no unit is named)" : time.unit}${time.date === null ? "" : `, dates in column ${time.date}`}`;
  return [first, ...channels.map((channel) => `channel ${channelText(channel)}`)];
}

/** All channels as `--channel` takes them: those that it does not name are left out. */
export const channelOption = (channels: readonly ChannelLayout[]): string => channels.map(channelText).join("; ");

function channelText({
  column,
  name,
  unit,
  attenuation,
  offset,
  inverted,
  amperesPerVolt,
  deskew,
}: ChannelLayout): string {
  return [
    `${column}: ${name}`,
    unit,
    ...(attenuation === 1 ? [] : [`${attenuation}×`]),
    ...(inverted ? ["inverted"] : []),
    ...(offset === 0 ? [] : [`offset ${offset} V`]),
    ...(amperesPerVolt === null ? [] : [`${amperesPerVolt} A/V`]),
    ...(deskew === 0 ? [] : [`deskew ${formatQuantity(deskew, "time", { digits: 6 })}`]),
  ].join(", ");
}
