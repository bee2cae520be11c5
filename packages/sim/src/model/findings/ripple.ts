import { RecentMeans } from "../../hybrid/recent.ts";
import type { Scenario } from "../../scenario/types.ts";
import type { EventKind, Ripple } from "../result.ts";
import type { Kit } from "./kit.ts";

/** A load that drops out at each low point of a ripple belongs to it. */
const WITHIN: readonly EventKind[] = ["drops out", "comes back"];

/** Follows what every column comes to over half a period of the mains, since anything happened to the line; null where no reservoir ripples. */
export function watchRipple({ sources }: Scenario, kit: Kit): () => Ripple | null {
  const frequencies = sources.flatMap((source) =>
    source.kind === "supply" && source.reservoir?.ripple === true ? [source.reservoir.mainsFrequency] : [],
  );
  if (frequencies.length === 0) return () => null;
  const recent = new RecentMeans(0.5 / Math.min(...frequencies));
  kit.watcher.onPiece = (interval) => recent.add(interval);
  kit.onEvent(({ kind }) => {
    if (!WITHIN.includes(kind)) recent.forget();
  });
  kit.onLeap(() => recent.forget());
  return () => {
    const means = recent.means();
    if (means === null) return null;
    const named = (values: readonly number[]) =>
      Object.fromEntries(kit.assembly.line.readings.probes.map(({ name }, k) => [name, values[k]]));
    return { mean: named(means.mean), rms: named(means.square.map(Math.sqrt)) };
  };
}
