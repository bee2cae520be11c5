import { channelOption } from "../../capture/layout-text.ts";
import type { CaptureLayout, ChannelLayout } from "../../capture/types.ts";
import { gainHint, type Scale } from "./gain.ts";
import type { Prepared } from "./prepare.ts";
import { serviceScales } from "./service-level.ts";
import { timeAxisHint } from "./time-axis.ts";

/** What a capture looks like once its values or its times are taken in other units. */
export interface OtherUnits {
  readonly gains: readonly string[];
  readonly hint: string | null;
}

/** Of a capture that fits nothing; nothing where it does not look like the run that way either. */
export function otherUnits({
  channels,
  varied,
  simulator,
  lookedUntil,
  alignment,
  layout,
}: Pick<Prepared, "channels" | "varied" | "simulator" | "lookedUntil" | "alignment" | "layout">): OtherUnits {
  const nominal = simulator.to(lookedUntil).at(varied.map((each) => each.nominal));
  if (nominal === null) return { gains: [], hint: null };
  const scales = new Map(serviceScales(channels, nominal.lines, alignment.shift));
  for (const [c, channel] of channels.entries()) {
    const scale = gainHint(channel, nominal.lines[c]);
    if (scale !== null) scales.set(channel.name, scale);
  }
  return {
    gains: scales.size === 0 ? [] : [...[...scales.values()].map(({ sentence }) => sentence), remedy(layout, scales)],
    hint: timeAxisHint(channels[0], nominal.lines[0]),
  };
}

function remedy({ channels }: CaptureLayout, scales: ReadonlyMap<string, Scale>): string {
  const corrected = channels.map((channel) => scaled(channel, scales.get(channel.name)?.factor ?? 1));
  return `If so, correct it where the capture is read and fit again; on the command line: --channel "${channelOption(corrected)}".`;
}

function scaled(channel: ChannelLayout, factor: number): ChannelLayout {
  return factor < 0
    ? { ...channel, inverted: !channel.inverted }
    : { ...channel, attenuation: Number((channel.attenuation * factor).toPrecision(6)) };
}
