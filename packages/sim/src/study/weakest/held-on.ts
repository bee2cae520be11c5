import { meltingCurrentAt } from "../../scenario/melting-current.ts";
import type { Crowbar, Fuse, Scenario } from "../../scenario/types.ts";
import { show } from "../../verdict/words.ts";
import { checkOf } from "./check.ts";
import type { Lasting } from "./fault-current.ts";
import { heatSinkNeeded, heatSinkToTake, onStatePower } from "./heat-sink.ts";
import type { Check } from "./types.ts";

/** What is smaller is no heat sink that one bolts an SCR to, K/W (assumed: a large finned profile in still air). */
const SMALLEST_HEAT_SINK = 0.3;

/** The rule of the heat sink, and the largest that would do, K/W. */
export interface HeldOn {
  readonly check: Check;
  readonly heatSink: number;
}

/** An SCR that nothing takes the current from: `fuse` is null where it has blown already and other sources go on. */
export function heldOn(
  { fuse: fuseName, scr }: { readonly fuse: string; readonly scr: string },
  {
    scenario: { ambient },
    crowbar,
    fuse,
  }: { readonly scenario: Scenario; readonly crowbar: Crowbar; readonly fuse: Fuse | null },
  lasting: Lasting,
): HeldOn | null {
  if (lasting.style === "ends" || !(lasting.scr > 0)) return null;
  const { pulses } = lasting;
  const limit = crowbar.ratings.junctionTemperature;
  const junctionToCase = crowbar.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
  const power = pulses?.power ?? onStatePower(crowbar, lasting.scr);
  const needed = heatSinkNeeded({ power, limit, ambient, junctionToCase });
  const sink =
    needed > 0
      ? `a heat sink of at most ${show(heatSinkToTake(needed), "thermal resistance", 2)} keeps its junction at ${show(limit, "temperature")} or below`
      : `no heat sink keeps its junction at ${show(limit, "temperature")}`;
  const tooLarge =
    needed > 0 && needed < SMALLEST_HEAT_SINK
      ? `, less than the ${show(SMALLEST_HEAT_SINK, "thermal resistance")} of a large one`
      : "";
  const check = checkOf({
    rule: "heat sink",
    subject: "fuse and SCR",
    dimension: "thermal resistance",
    found: needed,
    allowed: SMALLEST_HEAT_SINK,
    bound: "at least",
    sentence: `${flows()}: ${scr} is held on with ${show(power, "power")}, and ${sink}${tooLarge}.`,
    mend: { words: `a supply that shuts itself off${less()}`, changes: [] },
  });
  return { check, heatSink: needed };

  function flows(): string {
    const current = show(lasting.scr, "current");
    if (fuse === null) return `Once ${fuseName} is open, the other sources go on with ${current} past it`;
    if (pulses !== null)
      return `The supply gives ${current} in pulses too short to melt ${fuseName}, and with what the capacitors dump the SCR conducts for up to ${show(pulses.onShare, "ratio")} of the time`;
    return `The supply gives ${current} for good, and ${fuseName} melts from ${show(meltingCurrentAt(fuse, ambient), "current")} on`;
  }

  /** What may flow for good; of pulses the current is not all. */
  function less(): string {
    if (pulses !== null) return "";
    const most = (limit - ambient) / (junctionToCase + SMALLEST_HEAT_SINK);
    const { thresholdVoltage: v, slopeResistance: r } = crowbar;
    const bearable = (Math.sqrt(v ** 2 + 4 * r * most) - v) / (2 * r);
    return `, or gives no more than ${show(bearable, "current", 2)} for good`;
  }
}
