import { gainHint } from "./gain.ts";
import type { Prepared } from "./prepare.ts";
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
}: Pick<Prepared, "channels" | "varied" | "simulator" | "lookedUntil">): OtherUnits {
  const nominal = simulator.to(lookedUntil).at(varied.map((each) => each.nominal));
  if (nominal === null) return { gains: [], hint: null };
  return {
    gains: channels.flatMap((channel, c) => gainHint(channel, nominal.lines[c]) ?? []),
    hint: timeAxisHint(channels[0], nominal.lines[0]),
  };
}
