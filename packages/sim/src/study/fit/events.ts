import { happening } from "../../verdict/reasons.ts";
import { edgesOf } from "./edges.ts";
import type { Found, Ground } from "./search.ts";
import type { EventRow } from "./types.ts";

/** An event of the run counts as the cause of an edge that lies within so many samples of it. */
const WITHIN = 2;

/** Each edge of the capture beside its like in the run, in order of time. */
export function eventRows(
  { channels, pairs }: Ground,
  { own, simulated }: Pick<Found, "own" | "simulated">,
): EventRow[] {
  // What an instrument shows for nothing lifts its curve, so on a slope it passes a level at another time.
  const likes = channels.map(({ level }, c) =>
    level === null ? [] : edgesOf(simulated.lines[c], { level: level.level - own.zeros[c], half: level.half }, 0),
  );
  const rows = pairs.map(({ channel, edge, place }): EventRow => {
    const { name, interval } = channels[channel];
    const time = edge.time + own.shift + own.lags[channel];
    const like = likes[channel][place];
    const from = like?.time ?? Number.NaN;
    const [cause] = simulated.run.events
      .filter((event) => Math.abs(event.time - from) < WITHIN * interval)
      .toSorted((a, b) => Math.abs(a.time - from) - Math.abs(b.time - from));
    const does = edge.sign > 0 ? "rises" : "falls";
    return {
      channel: name,
      what: cause === undefined ? does : `${does}: ${happening(cause)}`,
      captured: { value: time, plusMinus: 2 * edge.off },
      simulated: like?.time ?? null,
      difference: like === undefined ? null : time - like.time,
    };
  });
  return rows.toSorted((a, b) => a.captured.value - b.captured.value);
}
