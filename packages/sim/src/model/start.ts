import { Lamp } from "../devices/lamp.ts";
import { Load } from "../devices/load.ts";
import { InvalidInput, type Issue } from "../issue/issue.ts";
import { type Vector, zeros } from "../ode/vector.ts";
import { formatQuantity } from "../units/index.ts";
import type { Assembly } from "./assemble.ts";
import { operatingPoint } from "./operating-point.ts";
import { refusal } from "./refusals.ts";
import { periodicReservoir } from "./ripple.ts";

/**
 * The state from which a run starts: the healthy operating point, or everything at zero except batteries.
 * @throws InvalidInput where the line has no healthy operating point; it names every reason.
 */
export function startState(dead: boolean, assembly: Assembly): number[] {
  return dead ? deadState(assembly) : healthyState(assembly);
}

function deadState(assembly: Assembly): number[] {
  const { line, sources, loads, devices } = assembly;
  const y = zeros(line.size);
  const guess = zeros(line.size);
  for (const { cell, node } of sources) {
    if (!cell) continue;
    node.guess(guess);
    y[node.state] = guess[node.state];
  }
  for (const { load } of loads) if (load instanceof Lamp) load.cool(y);
  line.observe(0, y);
  for (const device of devices) device.choosePiece(y);
  line.reconcile(y);
  return y;
}

function healthyState(assembly: Assembly): number[] {
  const { line, devices, sources, crowbar, seriesSwitch } = assembly;
  const y = warmPoint(assembly);
  if (!y) {
    const hint = "look for a load that asks for more than the line can carry, or for two sources that fight each other";
    throw new InvalidInput([refusal("", "no-operating-point", "the healthy line has no operating point.", hint)]);
  }
  const issues: Issue[] = [];
  line.observe(0, y);
  sources.forEach(({ name, regulator, reservoir }, k) => {
    let lowest: number | null = null;
    if (reservoir?.values.ripple && regulator) {
      const periodic = periodicReservoir(reservoir.values, regulator.delivered);
      y[reservoir.state] = periodic.start;
      lowest = periodic.lowest;
    }
    const reason = regulator?.unhealthy(lowest) ?? null;
    if (reason) {
      const hint = "lower the load in normal service, raise the limit, or give the reservoir more voltage";
      issues.push(
        refusal(`sources[${k}]`, "overloaded-at-rest", `${name} cannot carry the healthy line: ${reason}.`, hint),
      );
    }
  });
  line.observe(0, y);
  for (const device of devices) device.choosePiece(y);
  if (crowbar && crowbar.sensed >= crowbar.values.tripVoltage) {
    issues.push(
      refusal(
        "crowbar.tripVoltage",
        "trips-at-rest",
        "the crowbar would trip in normal service.",
        "set the trip point above the operating voltage",
      ),
    );
  }
  sources.forEach(({ name, ownCrowbar }, k) => {
    if (!ownCrowbar || ownCrowbar.sensed < ownCrowbar.values.tripVoltage) return;
    const message = `The own crowbar of ${name} would trip in normal service.`;
    const hint = "set its trip point above the voltage at the terminals";
    issues.push(refusal(`sources[${k}].ownCrowbar.tripVoltage`, "trips-at-rest", message, hint));
  });
  if (seriesSwitch && seriesSwitch.filter.value >= seriesSwitch.values.offVoltage) {
    issues.push(
      refusal(
        "seriesSwitch.offVoltage",
        "opens-at-rest",
        "the series switch would open in normal service.",
        "set its off voltage above the operating voltage",
      ),
    );
  }
  issues.push(...meltingFuses(assembly), ...starvedLoads(assembly));
  if (issues.length > 0) throw new InvalidInput(issues);
  return y;
}

/** A fuse without current may come out a little below zero. */
const ROUNDING = 1e-9;

/**
 * The point with warm fuses. Where there is none, or one beyond melting that only the equations know, the point with cold ones tells which
 * fuse is to blame.
 * @throws InvalidInput where a fuse melts in normal service
 */
function warmPoint(assembly: Assembly): number[] | null {
  const { line, devices, sources, loads, mainFuse } = assembly;
  const elements = [mainFuse?.element, ...[...sources, ...loads].map(({ lead }) => lead.element)].filter((e) => !!e);
  const melted = (y: Vector) => {
    line.observe(0, y);
    return elements.some(({ theta }) => !(theta > -ROUNDING && theta < 1));
  };
  const direct = operatingPoint(line, devices);
  if (elements.length === 0 || (direct && !melted(direct))) return direct;
  const cold = operatingPoint(
    line,
    devices,
    elements.flatMap(({ states }) => states),
  );
  if (!cold) return null;
  const warm = operatingPoint(line, devices, [], cold);
  if (warm && !melted(warm)) return warm;
  line.observe(0, cold);
  const issues = meltingFuses(assembly);
  if (issues.length > 0) throw new InvalidInput(issues);
  return null;
}

function meltingFuses({ line, sources, loads, mainFuse }: Assembly): Issue[] {
  const fuses = [
    { path: "mainFuse", element: mainFuse?.element ?? null, current: mainFuse?.current ?? 0 },
    ...sources.map(({ lead }, k) => ({
      path: `sources[${k}].lead.fuse`,
      element: lead.element,
      current: lead.current,
    })),
    ...loads.map(({ lead }, k) => ({ path: `loads[${k}].lead.fuse`, element: lead.element, current: lead.current })),
  ];
  return fuses.flatMap(({ path, element, current }) => {
    const limit = element?.values.minimumMeltingCurrent ?? Number.POSITIVE_INFINITY;
    if (Math.abs(current) < limit) return [];
    const message = `This fuse melts in normal service: it carries ${amperes(Math.abs(current))} at ${line.ambient} °C and melts above ${amperes(limit)}.`;
    // No fuse that was chosen for a line is a tenth of what it needs.
    const slip = Math.abs(current) > 10 * limit ? "check its `rated current` and the unit; else " : "";
    return [refusal(path, "melts-at-rest", message, `${slip}a larger fuse, or less current`)];
  });
}

const amperes = (current: number): string => formatQuantity(current, "current", { digits: 3 });

function starvedLoads({ loads }: Assembly): Issue[] {
  return loads.flatMap(({ name, load, node, lead }, k) => {
    // What is not plugged in yet is not in service.
    if (!(load instanceof Load) || node.voltage >= load.knee || lead.contactGap.state === "open") return [];
    const message = `${name} gets only ${node.voltage.toFixed(1)} V in normal service, below the ${load.knee.toFixed(1)} V at which it works.`;
    return [
      refusal(`loads[${k}]`, "starved-at-rest", message, "shorter or thicker leads, or a source that carries the load"),
    ];
  });
}
