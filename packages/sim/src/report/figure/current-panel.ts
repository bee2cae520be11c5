import { limitedPanel } from "./limited-panel.ts";
import type { Look } from "./palette.ts";
import type { TimeAxis } from "./time-axis.ts";
import type { WaveformData } from "./types.ts";
import type { ValuePanel } from "./value-panel.ts";

/** A limit further above the curves than this would press them flat. */
const farAbove = 2.5;

/**
 * What flows, with the limits of what it flows through.
 * @param shared lowest and highest value to make room for, A; null: what is drawn decides
 */
export function currentPanel(
  { time, currents }: WaveformData,
  axis: TimeAxis,
  look: Look,
  shared: readonly [number, number] | null,
): ValuePanel {
  const content = {
    name: "current",
    heading: "Current, A",
    unit: "A",
    share: 0.4,
    floor: 0,
    reach: farAbove,
    ceiling: null,
    compresses: true,
    order: 0,
    curves: currents.map(({ label, values, limit }) => ({ label, values, limits: limit === undefined ? [] : [limit] })),
  };
  return limitedPanel(content, time, axis, look, shared);
}
