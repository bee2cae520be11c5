import type { Scenario } from "../scenario/types.ts";
import type { Trace } from "../trace/types.ts";
import type { Repetition, Sample, Work } from "./calculation.ts";
import type { RunEvent } from "./event-types.ts";
import type {
  ClampFindings,
  CrowbarFindings,
  FuseFindings,
  LeadFindings,
  LoadFindings,
  SourceFindings,
  SwitchFindings,
} from "./findings/types.ts";

export type * from "./calculation.ts";
export type * from "./event-types.ts";
export type * from "./findings/types.ts";

/** Everything a run found out, as data in SI units; temperatures in °C, times in s since the start. */
export interface Run {
  /** That was run; its end is earlier where the run was asked to end so. */
  readonly scenario: Scenario;
  /** How it ended, and when. */
  readonly outcome: Outcome;
  /** In order of time. */
  readonly events: readonly RunEvent[];
  /** Waveforms; without rows where none were to be recorded. */
  readonly trace: Trace;
  /** Whether the calculation loses or makes energy. */
  readonly energy: Energy;
  /** In the order of the scenario. */
  readonly loads: readonly LoadFindings[];
  /** In the order of the scenario. */
  readonly sources: readonly SourceFindings[];
  /** The main fuse first, then the in-line fuses of sources and loads in their order. */
  readonly fuses: readonly FuseFindings[];
  /** Sources' leads, then loads' leads. */
  readonly leads: readonly LeadFindings[];
  /** Null where the line has none. */
  readonly crowbar: CrowbarFindings | null;
  /** A supply's own SCR, by source. */
  readonly ownCrowbars: readonly { readonly source: string; readonly findings: CrowbarFindings }[];
  /** Null where the line has none. */
  readonly clamp: ClampFindings | null;
  /** A load's own clamp, by load. */
  readonly loadClamps: readonly { readonly load: string; readonly findings: ClampFindings }[];
  /** Null where the line has none. */
  readonly seriesSwitch: SwitchFindings | null;
  /** Every state at t = 0 by name, in its own unit (`supply.vo`, `main fuse.theta1`, `vC2` …). */
  readonly operatingPoint: Readonly<Record<string, number>>;
  /** What every column of the trace shows at the end, by its name. */
  readonly atEnd: Readonly<Record<string, number>>;
  /** The same over the last half period of the mains, where a reservoir ripples. */
  readonly ripple: Ripple | null;
  /** Those that were asked for and whose event came. */
  readonly samples: readonly Sample[];
  /** Rounds that were leapt over, or why none was. */
  readonly repetition: Repetition;
  /** What the calculation cost. */
  readonly work: Work;
}

/** What the columns of the trace come to over the last half period of the mains (less where something happened since), each by its name. */
export interface Ripple {
  readonly mean: Readonly<Record<string, number>>;
  /** Root of the mean square. */
  readonly rms: Readonly<Record<string, number>>;
}

/** How the run ended. One that failed is no basis for a verdict, nor one that was `stopped` before the end of its scenario. */
export interface Outcome {
  /** `at rest`: nothing changes any more before the end; `stopped`: somebody ended it. */
  readonly status: "finished" | "at rest" | "failed" | "stopped";
  /** Time reached, s; totals of a run that came to rest are continued to the end time. */
  readonly time: number;
  /** For a failure: what happened, the state that could not be followed if known (its name in `operatingPoint`), and what to try. */
  readonly failure: { readonly reason: string; readonly device: string | null; readonly remedy: string } | null;
}

/** The run's energy balance, J: fed = dissipated + stored change + residual. */
export interface Energy {
  /** What the sources gave, less what batteries took. */
  readonly fed: number;
  /** Turned into heat or handed to loads, what was lost in jumps included. */
  readonly dissipated: number;
  /** In capacitors and inductors, end less start. */
  readonly storedChange: number;
  /** What the calculation leaves open. */
  readonly residual: number;
  /** Energy that the sources gave and took: what a charger feeds into a battery counts twice here and cancels in `fed`. */
  readonly turnedOver: number;
  /** |residual| over the energy turned over. */
  readonly relative: number;
  /** Energy turned into heat or handed over by device, J: `radio`, `radio lead`, `main fuse`; without what was lost in jumps. */
  readonly byDevice: Readonly<Record<string, number>>;
}
