import type { Run } from "../../model/result.ts";
import type { Dimension } from "../../units/index.ts";

/** One figure that is kept of every run. */
export interface RunFigure {
  /** As the heading of a column: words, then the unit. */
  readonly column: string;
  readonly label: string;
  readonly dimension: Dimension;
  readonly of: (run: Run) => number | null;
}

const most = (values: readonly number[]): number | null => (values.length === 0 ? null : Math.max(...values));
const least = (values: readonly number[]): number | null => (values.length === 0 ? null : Math.min(...values));

function barsOf(run: Run) {
  return [...(run.crowbar === null ? [] : [run.crowbar]), ...run.ownCrowbars.map(({ findings }) => findings)];
}

/** The first time a protector of the line or of a supply acted, s after the fault. */
function tripTime(run: Run): number | null {
  const times = [...barsOf(run).flatMap(({ firings }) => firings), ...(run.seriesSwitch?.starts ?? [])];
  const first = least(times);
  return first === null ? null : first - run.scenario.faultTime;
}

/** How far a load's voltage went towards its maximum: above 1 it is endangered. */
function peakShare(run: Run): number | null {
  return most(run.loads.map(({ peak }, index) => peak.value / run.scenario.loads[index].limits.maximum));
}

/** What a study keeps of each run; the first three decide, the others tell. */
export const RUN_FIGURES: readonly RunFigure[] = [
  {
    column: "peak_V",
    label: "peak at the load",
    dimension: "voltage",
    of: (run) => most(run.loads.map(({ peak }) => peak.value)),
  },
  { column: "trip_s", label: "time to the trip", dimension: "time", of: tripTime },
  { column: "peak_share", label: "peak over the load's maximum", dimension: "ratio", of: peakShare },
  {
    column: "above_s",
    label: "longest time above the load's maximum",
    dimension: "time",
    of: (run) => most(run.loads.map(({ aboveMaximum }) => aboveMaximum.longest)),
  },
  {
    column: "trips",
    label: "trips",
    dimension: "number",
    of: (run) => barsOf(run).reduce((sum, { firings }) => sum + firings.length, run.seriesSwitch?.starts.length ?? 0),
  },
  {
    column: "fuse_open_s",
    label: "time until the first fuse is open",
    dimension: "time",
    of: (run) => {
      const first = least(run.fuses.flatMap(({ openTime }) => (openTime === null ? [] : [openTime])));
      return first === null ? null : first - run.scenario.faultTime;
    },
  },
  {
    column: "fuse_way",
    label: "most of the way to melting of any fuse",
    dimension: "ratio",
    of: (run) => most(run.fuses.map(({ peakTheta }) => peakTheta)),
  },
  {
    column: "scr_peak_A",
    label: "peak current of the SCR",
    dimension: "current",
    of: (run) => most(barsOf(run).map(({ peakCurrent }) => peakCurrent.value)),
  },
  {
    column: "scr_junction_degC",
    label: "hottest junction of the SCR",
    dimension: "temperature",
    of: (run) => most(barsOf(run).map(({ peakTemperature }) => peakTemperature.value)),
  },
  {
    column: "scr_I2t_10ms_A2s",
    label: "worst I²t of the SCR in 10 ms",
    dimension: "I2t",
    of: (run) => most(barsOf(run).map(({ worst10msI2t }) => worst10msI2t)),
  },
  {
    column: "source_peak_A",
    label: "peak current of a source",
    dimension: "current",
    of: (run) => most(run.sources.map(({ peakCurrent }) => peakCurrent.value)),
  },
];

/** All figures of a run in their order; NaN where there is none. */
export function figuresOf(run: Run): number[] {
  return RUN_FIGURES.map(({ of }) => of(run) ?? Number.NaN);
}
