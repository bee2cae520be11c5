import { gainHint } from "./gain.ts";
import type { Prepared } from "./prepare.ts";
import { timeAxisHint } from "./time-axis.ts";

/** What a capture that fits nothing looks like once its values or its times are taken in other units; nothing where it does not. */
export function otherUnits({
  channels,
  varied,
  simulator,
  lookedUntil,
}: Pick<Prepared, "channels" | "varied" | "simulator" | "lookedUntil">): {
  readonly gains: readonly string[];
  readonly hint: string | null;
} {
  const nominal = simulator.to(lookedUntil).at(varied.map((each) => each.nominal));
  if (nominal === null) return { gains: [], hint: null };
  return {
    gains: channels.flatMap((channel, c) => gainHint(channel, nominal.lines[c]) ?? []),
    hint: timeAxisHint(channels[0], nominal.lines[0]),
  };
}
