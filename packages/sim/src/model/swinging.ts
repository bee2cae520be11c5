import { InvalidInput, type Issue } from "../issue/issue.ts";
import { Growth } from "../ode/growth.ts";
import type { OdeSystem } from "../ode/types.ts";
import type { Vector } from "../ode/vector.ts";
import type { Scenario } from "../scenario/types.ts";
import { formatQuantity } from "../units/index.ts";
import { type Assembly, assemble } from "./assemble.ts";
import { warning } from "./refusals.ts";
import { startState } from "./start.ts";

/** The largest input capacitance that is tried, F, and to which ratio the least that helps is found. */
const LARGEST = 1;
const CLOSE = 1.02;

/**
 * What is to be said of a healthy line that does not stay at its operating point: constant-power loads draw more the lower their voltage, so that they
 * feed the swinging of their input capacitance against the inductance of the leads. The condition is that of the linearized line, all its parts
 * included; in its simplest form it is R. D. Middlebrook's (Input filter considerations in design and application of switching regulators, IEEE IAS
 * Annual Meeting, 1976; from memory).
 * @param start the operating point; the line is left observed there
 */
export function swinging(scenario: Scenario, assembly: Assembly, start: Vector): Issue[] {
  const mode = new Growth(withHeld(assembly));
  if (scenario.start === "dead" || !mode.within(scenario.endTime, 0, start)) return [];
  const fed = scenario.loads.flatMap((load, k) => (load.kind === "constant power" ? [k] : []));
  const alone = fed.map((k) => ({ loads: [k], factor: leastFactor(scenario, [k]) }));
  const together = fed.length > 1 && alone.every(({ factor }) => factor === null);
  const ways = together ? [{ loads: fed, factor: leastFactor(scenario, fed) }] : alone;
  const added = ({ loads, factor }: (typeof ways)[number]) =>
    loads.reduce((sum, k) => sum + scenario.loads[k].inputCapacitance * (factor ?? Number.POSITIVE_INFINITY), 0);
  const [best] = [...ways].sort((a, b) => added(a) - added(b));
  const names = best.loads.map((k) => scenario.loads[k].name).join(" and ");
  const much = formatQuantity(1 / mode.rate, "time", { digits: 2 });
  const swings =
    mode.swing > 0
      ? `swings by itself in normal service, at about ${formatQuantity(mode.swing / (2 * Math.PI), "frequency", { digits: 2 })}, growing to 2.7 times its size every ${much}`
      : `runs away from its operating point in normal service, to 2.7 times as far every ${much}`;
  const why =
    "a constant-power load draws more current the lower its voltage (a negative incremental resistance), and here that feeds more than the resistances damp";
  return [
    warning(
      `loads[${best.loads[0]}]`,
      "swings-by-itself",
      `The line with ${names} ${swings}: ${why}.`,
      hintOf(scenario, best.loads, best.factor),
    ),
  ];
}

function hintOf({ loads }: Scenario, raised: readonly number[], factor: number | null): string {
  if (factor === null) return "shorter and thicker leads, or less power: no input capacitance holds it still";
  const least = raised.map((k) => {
    const value = formatQuantity(roundedUp(loads[k].inputCapacitance * factor), "capacitance", { digits: 2 });
    return `${value} at the input of ${loads[k].name}`;
  });
  return `at least ${least.join(" and ")} would just hold it still, by the linearized healthy line with all other values as they are: take a multiple, for tolerances, cold and a line changed by the fault; shorter leads help as well`;
}

/** To two digits. */
function roundedUp(value: number): number {
  const unit = 10 ** (Math.floor(Math.log10(value)) - 1);
  return Math.ceil(value / unit) * unit;
}

/** By how much the input capacitance of these loads must be multiplied, at least, until the healthy line holds still; null where nothing helps. */
function leastFactor(scenario: Scenario, raised: readonly number[]): number | null {
  const most = LARGEST / Math.max(...raised.map((k) => scenario.loads[k].inputCapacitance));
  let [low, high] = [1, 2];
  while (!holdsStill(scenario, raised, high)) {
    if (high > most) return null;
    low = high;
    high *= 2;
  }
  while (high > CLOSE * low) {
    const middle = Math.sqrt(low * high);
    if (holdsStill(scenario, raised, middle)) high = middle;
    else low = middle;
  }
  return high;
}

function holdsStill(scenario: Scenario, raised: readonly number[], factor: number): boolean {
  const loads = scenario.loads.map((load, k) =>
    raised.includes(k) ? { ...load, inputCapacitance: factor * load.inputCapacitance } : load,
  );
  const assembly = assemble({ ...scenario, loads }, 1e-6);
  try {
    return !new Growth(withHeld(assembly)).within(scenario.endTime, 0, startState(false, assembly));
  } catch (error) {
    // What is looked for is only a hint: a capacitance at which no point is found is not one to be told.
    if (error instanceof InvalidInput) return false;
    throw error;
  }
}

/** The line as its operating point is meant: what is held there does not move, for a battery that is slowly emptied is no swing. */
function withHeld({ line, devices }: Assembly): OdeSystem {
  const rows = line.slotsOf(new Set(devices.flatMap((device) => device.held())));
  return {
    size: line.size,
    feeding: line.feeding,
    rates: (t, y, out) => line.rates(t, y, out),
    timeRates: (t, y, out) => line.timeRates(t, y, out),
    linearize: (t, y) => {
      line.linearize(t, y);
      line.holdRows(rows);
    },
    factor: (shift) => line.factor(shift),
    solve: (b) => line.solve(b),
  };
}
