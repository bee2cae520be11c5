import { HEAT } from "../../../packages/sim/src/model/energy-balance.ts";
import type { EventKind, Run } from "../../../packages/sim/src/model/result.ts";
import { type RunOptions, Simulation } from "../../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { type Inside, imbalance, inside } from "../modes.ts";
import { nameOf, reasonsOf } from "./reasons.ts";

/** A current that may be left at a node, for each ampere or volt of the largest state, A. */
const IMBALANCE = 1e-9;
/** Inside the dead band of its corner a part may give back so much for a moment, W: microvolts over milliohms at some volts. */
const DEAD_BAND_POWER = 0.1;
/** A hold's length is counted down, and here it is the difference of two times. */
const ROUNDING = 1e-12;

export interface Testimony {
  readonly run: Run;
  readonly complaints: readonly string[];
  readonly steps: number;
}

/**
 * Runs a line step by step, looks at it after each and around each change of its modes, and tells what should not have been.
 * @param expected what the events are held against, where that is not the line itself
 */
export function witness(scenario: Scenario, options: RunOptions = {}, expected = scenario): Testimony {
  const simulation = new Simulation(scenario, { leaps: false, ...options });
  const view = inside(simulation);
  const { line, y } = view;
  const complaints: string[] = [];
  const complain = (text: string) => complaints.push(`${text}, at ${simulation.time} s`);
  const past = new Map<string, number>();
  const reasons = reasonsOf(expected, simulation, past);
  /** Since when each reason is seen to hold: where one begins to, its guard cuts the step, so that is when it is seen. */
  const since = new Map<string, number>();
  const before = { states: y.slice(), loss: 0 };

  const seen = (): void => {
    line.observe(simulation["loop"].local, y);
    for (const [name, { holds }] of reasons) {
      if (!holds()) since.delete(name);
      else if (!since.has(name)) since.set(name, simulation.time);
    }
  };

  const loop = simulation["loop"];
  const change = loop["change"].bind(loop);
  loop["change"] = () => {
    seen();
    before.states = y.slice();
    before.loss = line.jumpLoss();
    change();
    for (const text of jumps(view, before)) complain(text);
    seen();
  };
  const log = loop.log.bind(loop);
  loop.log = (source, code, cause) => {
    const name = nameOf(view.assembly.subjects.get(source), code as EventKind);
    const reason = reasons.get(name);
    if (reason === undefined) complain(`${name}, which nothing explains`);
    else {
      const from = since.get(name) ?? (reason.holds() ? simulation.time : null);
      const held = simulation.time - (from ?? 0);
      if (from === null) complain(`${name} without its reason`);
      else if (held < reason.during - ROUNDING) complain(`${name} after ${held} s of ${reason.during} s`);
    }
    past.set(name, simulation.time);
    log(source, code, cause);
  };

  const flows = new Float64Array(line.flowCount);
  const heats = line.readings.flows.flatMap(({ name }, f) => (name.startsWith(HEAT) ? [{ name, f }] : []));
  let steps = 0;
  let status = simulation.status;
  seen();
  do {
    status = simulation.advance(1);
    steps++;
    seen();
    if (!y.every(Number.isFinite)) complain("a state that is no number");
    const largest = y.reduce((most, value) => Math.max(most, Math.abs(value)), 1);
    const left = imbalance({ ...view, local: loop.local });
    if (!(left <= IMBALANCE * largest)) complain(`${left} A that go nowhere at a node`);
    line.flows(flows);
    for (const { name, f } of heats) if (!(flows[f] >= -DEAD_BAND_POWER)) complain(`${name} is ${flows[f]} W`);
    const met = status === "running" ? line.guards.findIndex(({ active, value }) => active && value() > 0) : -1;
    if (met >= 0) complain(`guard ${met} is met and nobody has acted`);
  } while (status === "running" && complaints.length < 5);
  return { run: simulation.result(), complaints, steps };
}

/** What states did across a change that none may do: capacitors, inductors, filters, temperatures and melt shares go on where they were. */
export function jumps({ assembly, line, y }: Inside, before: { states: ArrayLike<number>; loss: number }): string[] {
  const { sources, loads, crowbar, mainFuse } = assembly;
  const out: string[] = [];
  /** A current that stops: it may have been no larger than this, and what was stored in it is lost. */
  const stops = new Map<number, { most: number; inductance: number }>();
  for (const { lead } of [...sources, ...loads]) {
    const { fuse, contact, diode, inductance } = lead.values;
    const most = Math.max(fuse?.extinctionCurrent ?? 0, contact?.extinctionCurrent ?? 0, diode ? 1e-4 : 0);
    stops.set(lead["i"], { most, inductance });
  }
  for (const scr of [crowbar, ...sources.map(({ ownCrowbar }) => ownCrowbar)]) {
    if (!scr) continue;
    const { holdingCurrent, latchingCurrent, inductance } = scr.values;
    stops.set(scr["i"], { most: Math.max(holdingCurrent, latchingCurrent), inductance });
  }
  // A melted element's stages are made to sum to 1.
  const melts = new Set(
    [mainFuse, ...sources.map(({ lead }) => lead), ...loads.map(({ lead }) => lead)].flatMap(
      (part) => part?.element?.states ?? [],
    ),
  );
  let lost = 0;
  for (let s = 0; s < y.length; s++) {
    const [was, is] = [before.states[s], y[s]];
    if (was === is) continue;
    const stop = stops.get(s);
    if (stop && is === 0) {
      lost += 0.5 * stop.inductance * was * was;
      if (Math.abs(was) > stop.most * (1 + 1e-6) + 1e-9) out.push(`${line.names[s]} is cut off at ${was} A`);
    } else if (!(melts.has(s) && Math.abs(was - is) < 1e-6)) out.push(`${line.names[s]} jumps from ${was} to ${is}`);
  }
  const counted = line.jumpLoss() - before.loss;
  if (Math.abs(counted - lost) > 1e-9 * lost + 1e-18) out.push(`${lost} J are lost in a jump, ${counted} J counted`);
  return out;
}
