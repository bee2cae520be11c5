import type { EventKind, Run } from "../../packages/sim/src/model/result.ts";
import type { Dimension } from "../../packages/sim/src/units/index.ts";
import type { Grade } from "../../packages/sim/src/verdict/types.ts";
import { at } from "../support/run.ts";
import { column } from "./shipped.ts";

/** A figure of the opening lines: as it is written there, and where the run has it. */
type Says = readonly [written: string, dimension: Dimension, found: (run: Run) => number];

/** What the opening lines of a file promise. */
export interface Expected {
  readonly grade: Grade;
  readonly exitStatus: 0 | 1 | 4;
  /** Of the line's crowbar, else of a supply's own; null without either. */
  readonly firings: number | null;
  /** Main fuse first, then the in-line ones. */
  readonly fuses: readonly Run["fuses"][number]["state"][];
  readonly trips: "once or never" | "again and again";
  readonly says: readonly Says[];
}

const peak = (run: Run, load = 0): number => run.loads[load].peak.value;
const sourcePeak = (run: Run, source = 0): number => run.sources[source].peak.value;
const last = (run: Run, name: string): number => column(run, name).at(-1) ?? Number.NaN;

/** Time of the first event of a kind, s since the fault. */
function after(run: Run, kind: EventKind): number {
  const event = run.events.find((each) => each.kind === kind);
  if (event === undefined) throw new Error(`nothing ${kind}`);
  return event.time - run.scenario.faultTime;
}

const firing = (run: Run): number => run.events.find(({ kind }) => kind === "fires")?.time ?? Number.NaN;
const period = (run: Run): number => (run.crowbar?.cycling ?? run.seriesSwitch?.cycling)?.period ?? Number.NaN;

const ends = (
  grade: Grade,
  exitStatus: Expected["exitStatus"],
  firings: number | null,
  fuses: Expected["fuses"],
  trips: Expected["trips"],
): Omit<Expected, "says"> => ({ grade, exitStatus, firings, fuses, trips });

export const EXPECTED: Readonly<Record<string, Expected>> = {
  "01-shorted-pass-transistor.yaml": {
    ...ends("inside", 0, 1, ["open"], "once or never"),
    says: [
      ["14.7 V", "voltage", peak],
      ["0.13 s", "time", (run) => after(run, "melts")],
      ["24 V", "voltage", sourcePeak],
      ["900 A²s", "I2t", (run) => run.fuses[0].meltingI2t ?? Number.NaN],
    ],
  },
  "02-hiccup-supply.yaml": {
    ...ends("inside", 0, 32, ["intact"], "again and again"),
    says: [
      ["317 ms", "time", period],
      ["15 V", "voltage", peak],
    ],
  },
  "03-constant-current-holds.yaml": {
    ...ends("inside", 4, 1, ["intact"], "once or never"),
    says: [
      ["59 s", "time", (run) => after(run, "fails short")],
      ["33 A", "current", (run) => last(run, "station_supply_A")],
    ],
  },
  "04-foldback.yaml": {
    ...ends("inside", 0, 1, ["intact"], "once or never"),
    says: [
      ["9 A", "current", (run) => last(run, "crowbar_A")],
      ["114 °C", "temperature", (run) => run.crowbar?.peakTemperature.value ?? Number.NaN],
    ],
  },
  "05-latch-off.yaml": {
    ...ends("inside", 0, 1, ["intact"], "once or never"),
    says: [["5 ms", "time", (run) => after(run, "limiter trips")]],
  },
  "06-voltage-turned-up-slowly.yaml": {
    ...ends("inside", 0, 1, ["open"], "once or never"),
    says: [
      ["14.8 V", "voltage", peak],
      ["15.2 V", "voltage", (run) => at(run, "station_supply_V", firing(run) - 1e-6)],
      ["15.0 V", "voltage", (run) => run.crowbar?.peakSense.value ?? Number.NaN],
      ["3.0 s", "time", (run) => after(run, "fires")],
      ["1.6 s", "time", (run) => after(run, "melts") - after(run, "fires")],
    ],
  },
  "07-lost-feedback-unprotected.yaml": {
    ...ends("beyond", 1, null, ["intact"], "once or never"),
    says: [
      ["21.9 V", "voltage", peak],
      ["1.5 A", "current", (run) => last(run, "station_supply_A")],
    ],
  },
  "08-charger-creep.yaml": {
    ...ends("inside", 4, 1, ["open"], "once or never"),
    says: [
      ["15 V", "voltage", peak],
      ["400 A", "current", (run) => run.sources[1].peakCurrent.value],
      ["3 ms", "time", (run) => after(run, "melts") - after(run, "fires")],
      ["10 A", "current", (run) => last(run, "crowbar_A")],
    ],
  },
  "09-panel-and-battery.yaml": {
    ...ends("inside", 4, null, ["intact"], "once or never"),
    says: [
      ["15.0 V", "voltage", peak],
      ["122 %", "ratio", (run) => run.sources[1].charge?.end ?? Number.NaN],
    ],
  },
  "10-clamp-only.yaml": {
    ...ends("withstood", 1, null, ["open"], "once or never"),
    says: [
      ["19 V", "voltage", peak],
      ["3 ms", "time", (run) => after(run, "fails short")],
    ],
  },
  "11-series-transistor.yaml": {
    ...ends("inside", 0, null, ["intact"], "once or never"),
    says: [
      ["31 µs", "time", (run) => after(run, "clears")],
      ["15.0 V", "voltage", peak],
      ["44 V", "voltage", (run) => column(run, "protected_side_V").reduce((a, b) => Math.max(a, b))],
      ["24 V", "voltage", (run) => last(run, "station_supply_V")],
    ],
  },
  "12-relay-contact.yaml": {
    ...ends("beyond", 1, null, ["intact"], "once or never"),
    says: [
      ["5 ms", "time", (run) => after(run, "open")],
      ["23 V", "voltage", peak],
    ],
  },
  "13-gate-kept-on.yaml": {
    ...ends("inside", 0, 1, ["intact"], "once or never"),
    says: [],
  },
  "14-crowbar-with-disconnect.yaml": {
    ...ends("inside", 0, 32, ["intact"], "again and again"),
    says: [
      ["14.9 V", "voltage", peak],
      ["317 ms", "time", period],
      ["5 ms", "time", (run) => after(run, "open")],
      ["182 A", "current", (run) => run.seriesSwitch?.peakCurrent ?? Number.NaN],
    ],
  },
  "15-bench-test-with-lamp.yaml": {
    ...ends("inside", 0, 1, ["intact"], "once or never"),
    says: [
      ["15.0 V", "voltage", peak],
      ["6.4 s", "time", (run) => after(run, "fires")],
      ["2.5 A", "current", (run) => last(run, "crowbar_A")],
    ],
  },
  "16-fuse-on-wrong-side.yaml": {
    ...ends("inside", 4, 1, ["intact"], "once or never"),
    says: [
      ["320 A", "current", (run) => run.sources[1].peakCurrent.value],
      ["21 ms", "time", (run) => after(run, "fails short") - after(run, "fires")],
    ],
  },
  "17-two-radios.yaml": {
    ...ends("withstood", 1, 1, ["intact"], "once or never"),
    says: [
      ["14.8 V", "voltage", peak],
      ["15.5 V", "voltage", (run) => peak(run, 1)],
      ["0.7 V", "voltage", (run) => at(run, "protected_side_V", 2) - at(run, "relay_radio_V", 2)],
    ],
  },
  "18-arc-held.yaml": {
    ...ends("inside", 4, 1, ["clearing"], "once or never"),
    says: [
      ["31 A", "current", (run) => last(run, "main_fuse_A")],
      ["0.94 ms", "time", (run) => after(run, "melts")],
    ],
  },
  "19-hot-plug-from-dead.yaml": {
    ...ends("inside", 0, 0, ["intact"], "once or never"),
    says: [
      ["14.8 V", "voltage", peak],
      ["13.6 V", "voltage", (run) => run.crowbar?.peakSense.value ?? Number.NaN],
    ],
  },
  "20-battery-terminal-falls-off.yaml": {
    ...ends("inside", 0, null, ["intact"], "again and again"),
    says: [
      ["18 V", "voltage", sourcePeak],
      ["15.0 V", "voltage", peak],
    ],
  },
  "21-drop-out-reset-by-hand.yaml": {
    ...ends("inside", 0, 0, ["intact"], "once or never"),
    says: [
      ["0.2 s", "time", (run) => after(run, "drops out")],
      ["1.0 s", "time", (run) => after(run, "comes back") - after(run, "contact closes")],
      ["20 mA", "current", (run) => last(run, "link_radio_A")],
    ],
  },
  "22-supplys-own-scr.yaml": {
    ...ends("inside", 4, 1, ["intact"], "once or never"),
    says: [
      ["7 s", "time", (run) => after(run, "fails short")],
      ["80 A", "current", (run) => last(run, "station_supply_own_crowbar_A")],
    ],
  },
  "23-ripple-reservoir.yaml": {
    ...ends("inside", 0, 1, ["open"], "once or never"),
    says: [["14.7 V", "voltage", peak]],
  },
  "24-isolated-sources.yaml": {
    ...ends("inside", 0, 1, ["intact"], "once or never"),
    says: [["12.4 V", "voltage", (run) => last(run, "relay_radio_V")]],
  },
  "25-filter-too-slow.yaml": {
    ...ends("withstood", 1, 1, ["open"], "once or never"),
    says: [
      ["16.6 V", "voltage", peak],
      ["21 µs", "time", (run) => run.loads[0].aboveMaximum.total],
    ],
  },
  "26-scr-smaller-than-fuse.yaml": {
    ...ends("inside", 4, 1, ["open"], "once or never"),
    says: [["0.2 s", "time", (run) => after(run, "melts")]],
  },
  "28-schemes-side-by-side.yaml": {
    ...ends("inside", 0, 1, ["open"], "once or never"),
    says: [["24 µs", "time", (run) => firing(run) - run.scenario.faultTime]],
  },
  "27-scattered-parts.yaml": {
    ...ends("inside", 0, 1, ["open"], "once or never"),
    says: [
      ["15.5 V", "voltage", peak],
      ["0.45 ms", "time", (run) => after(run, "fires")],
      ["0.66 s", "time", (run) => after(run, "melts")],
    ],
  },
  "29-chosen-parts.yaml": {
    ...ends("inside", 0, 1, ["open"], "once or never"),
    says: [
      ["14.7 V", "voltage", peak],
      ["0.42 s", "time", (run) => after(run, "melts")],
      ["103 °C", "temperature", (run) => run.crowbar?.peakTemperature.value ?? Number.NaN],
    ],
  },
};
