import type { Run } from "../../model/result.ts";
import type { Answered, Refused } from "../../report/run-scenario.ts";
import { firstNotBefore } from "../../trace/place.ts";
import type { TripLine } from "./line.ts";
import { plugTimes, TIMES } from "./texts.ts";

/** A piece of a waveform: what the protector watches and what its filter makes of it, V over s. */
export interface Stretch {
  readonly time: Float64Array;
  readonly node: Float64Array;
  readonly sensed: Float64Array;
}

/** What a run of the fault showed. */
export interface FaultMeasured {
  readonly kind: "fault";
  /** Of the load that came nearest to its limit: its name, its peak and its limit, V. */
  readonly load: string;
  readonly peak: number;
  readonly limit: number;
  /** Voltages that the protector watched when it had made up its mind, and when it acted; null where it never did. */
  readonly decided: number | null;
  readonly acted: number | null;
  /** Steepest rise of the protected side over 5 µs where it crosses that limit, V/s; 0 where it does not. */
  readonly ramp: number;
}

/** What a run of normal service showed. */
export interface ServiceMeasured {
  readonly kind: "service";
  readonly firings: number;
  /** By the name of what happened. */
  readonly stretches: Readonly<Record<string, Stretch>>;
  /** Voltages at the start (of the run that starts in service): protector and lowest load. */
  readonly node: number;
  readonly load: number;
  /** The same while the radios receive. */
  readonly receiveNode: number;
  readonly receiveLoad: number;
  /** From the protector to each load while they receive, V. */
  readonly receiveDrops: readonly number[];
}

/** A run that could not be made. */
export interface NotMeasured {
  readonly kind: "none";
  readonly why: string;
  readonly code: string;
  /** What helps, where the refusal knows it. */
  readonly hint: string | null;
}

function refusal({ issues }: Refused): NotMeasured {
  const [{ message, code, hint }] = issues.filter(({ severity }) => severity === "error");
  return { kind: "none", why: message, code, hint };
}

function failed(run: Run): NotMeasured | null {
  const { failure } = run.outcome;
  return failure === null ? null : { kind: "none", why: failure.reason, code: "failed", hint: null };
}

function columnOf(run: Run, name: string): Float64Array {
  const [{ values }] = run.trace.columns.filter((column) => column.name === name);
  return values;
}

/** The value of a waveform just before an instant. */
function before(time: Float64Array, values: Float64Array, instant: number): number {
  const at = firstNotBefore(time, instant, 0, time.length - 1);
  if (at === 0 || time[at] === time[at - 1]) return values[at];
  const share = Math.min(1, (instant - time[at - 1]) / (time[at] - time[at - 1]));
  return values[at - 1] + share * (values[at] - values[at - 1]);
}

/** Reads what a run of the fault tells about the top of the band. */
export function measureFault(result: Answered | Refused, line: TripLine, delay: number): FaultMeasured | NotMeasured {
  if (result.kind === "refused") return refusal(result);
  const { run } = result;
  const bad = failed(run);
  if (bad !== null) return bad;
  const { protector, loads } = line;
  const nearest = run.loads
    .map(({ name, peak }, index) => ({ load: name, peak: peak.value, limit: loads[index].limit }))
    .reduce((most, each) => (each.peak - each.limit > most.peak - most.limit ? each : most));
  const node = columnOf(run, protector.node);
  const isBar = protector.kind === "crowbar";
  const acted = run.events.find(
    ({ kind, subject }) => subject.part === protector.kind && kind === (isBar ? "fires" : "clears"),
  );
  const decided = isBar
    ? acted && acted.time - protector.delay - delay
    : run.events.find(({ kind, subject }) => subject.part === protector.kind && kind === "starts to open")?.time;
  const at = (time: number | undefined): number | null =>
    time === undefined ? null : before(run.trace.time, node, time);
  return {
    kind: "fault",
    ...nearest,
    decided: at(decided),
    acted: at(acted?.time),
    ramp: rampAt(run, node, nearest.limit),
  };
}

const RAMP_SPAN = 5e-6;

function rampAt(run: Run, node: Float64Array, level: number): number {
  const { time } = run.trace;
  const first = node.findIndex((value) => value >= level);
  if (first <= 0) return 0;
  const [from, to] = [time[first] - RAMP_SPAN / 2, time[first] + RAMP_SPAN / 2];
  return Math.max(0, (before(time, node, to) - before(time, node, from)) / RAMP_SPAN);
}

function stretch(run: Run, line: TripLine, from: number, to: number): Stretch {
  const { time } = run.trace;
  const first = time.findIndex((each) => each >= from);
  const after = time.findIndex((each) => each > to);
  const end = after < 0 ? time.length : after;
  const cut = (values: Float64Array): Float64Array => values.slice(Math.max(0, first), end);
  return {
    time: cut(time),
    node: cut(columnOf(run, line.protector.node)),
    sensed: cut(columnOf(run, line.protector.sensed)),
  };
}

function firingsOf(run: Run, line: TripLine): number {
  return line.protector.kind === "crowbar"
    ? (run.crowbar?.firings.length ?? 0)
    : (run.seriesSwitch?.starts.length ?? 0);
}

/** Reads the run in which radios stop and start transmitting; without any that does, only its levels tell something. */
export function measureKeying(result: Answered | Refused, line: TripLine): ServiceMeasured | NotMeasured {
  if (result.kind === "refused") return refusal(result);
  const { run } = result;
  const bad = failed(run);
  if (bad !== null) return bad;
  const { time } = run.trace;
  const node = columnOf(run, line.protector.node);
  const loads = line.loads.map(({ column }) => columnOf(run, column));
  const lowest = (instant: number): number => Math.min(...loads.map((values) => before(time, values, instant)));
  const keyed = line.loads.some(({ transmit }) => transmit !== null);
  // A run that came to rest ends early.
  const received = Math.min(TIMES.keyDown, time[time.length - 1]);
  return {
    kind: "service",
    firings: firingsOf(run, line),
    stretches: keyed
      ? {
          "radio stops transmitting": stretch(run, line, TIMES.keyUp, TIMES.keyDown),
          "radio starts transmitting": stretch(run, line, TIMES.keyDown, TIMES.keyEnd),
        }
      : {},
    node: node[0],
    load: lowest(0),
    receiveNode: keyed ? before(time, node, received) : node[0],
    receiveLoad: keyed ? lowest(received) : lowest(0),
    receiveDrops: loads.map((values) =>
      keyed ? before(time, node, received) - before(time, values, received) : node[0] - values[0],
    ),
  };
}

/** Reads the run that starts dead. */
export function measurePlugs(result: Answered | Refused, line: TripLine): ServiceMeasured | NotMeasured {
  if (result.kind === "refused") return refusal(result);
  const { run } = result;
  const bad = failed(run);
  if (bad !== null) return bad;
  const times = plugTimes(line);
  const plugs = line.loads.map(({ name }, order) => [
    `plug of ${name} goes into the live line`,
    stretch(run, line, times[order], times[order] + TIMES.between),
  ]);
  const on = line.supplies.length === 0 ? [] : [["supply is switched on", stretch(run, line, 0, times[0])]];
  return {
    kind: "service",
    firings: firingsOf(run, line),
    stretches: Object.fromEntries([...on, ...plugs]) as Record<string, Stretch>,
    node: 0,
    load: 0,
    receiveNode: 0,
    receiveLoad: 0,
    receiveDrops: [],
  };
}
