import type { LoadBranch, SourceBranch } from "../../../packages/sim/src/model/assemble.ts";
import type { EventKind, Subject } from "../../../packages/sim/src/model/result.ts";
import type { Simulation } from "../../../packages/sim/src/model/run.ts";
import type { Crowbar, Lead, Load, Scenario, Supply } from "../../../packages/sim/src/scenario/types.ts";
import { inside } from "../modes.ts";

/** What the physics asks for before an event: that something is true, for so long without a break. */
export interface Reason {
  readonly holds: () => boolean;
  readonly during: number;
}

/** Of a current that follows from volts over milliohms in another order than the device has it, A. */
const ROUNDING = 1e-9;

/** Times of events so far, by their names; the last one of each. */
export type Past = ReadonlyMap<string, number>;

export const nameOf = (subject: Subject, kind: EventKind): string => `${subject.owner}/${subject.part}: ${kind}`;

/**
 * The reason of every event that a line is able to show, by its name: written from the scenario and the physics, not from the guards of the
 * devices, whose states and node voltages are all that is read.
 */
export function reasonsOf(scenario: Scenario, simulation: Simulation, past: Past): ReadonlyMap<string, Reason> {
  const { assembly } = inside(simulation);
  const now = () => simulation.time;
  const reasons = new Map<string, Reason>();
  const put = (part: Subject["part"], owner: string, kind: EventKind, holds: () => boolean, during = 0) =>
    reasons.set(nameOf({ part, owner }, kind), { holds, during });
  const isNow = (time: number) => Math.abs(now() - time) <= 1e-12;
  const since = (name: string) => now() - (past.get(name) ?? Number.NEGATIVE_INFINITY);

  put("line", "", "fault", () => isNow(scenario.faultTime));
  scenario.sources.forEach((source, k) => {
    const branch = assembly.sources[k];
    leadReasons("source", source.name, source.lead, branch.lead);
    if (source.kind === "supply") supplyReasons(source, branch);
  });
  scenario.loads.forEach((load, k) => {
    const branch = assembly.loads[k];
    leadReasons("load", load.name, load.lead, branch.lead);
    loadReasons(load, branch);
  });
  pathReasons();
  if (scenario.crowbar && assembly.crowbar) scrReasons("crowbar", "", scenario.crowbar, assembly.crowbar);
  const { clamp } = assembly;
  if (clamp) put("clamp", "", "fails short", () => clamp.energy >= (scenario.clamp?.ratings.energy ?? 0));
  return reasons;

  function leadReasons(part: "source" | "load", owner: string, lead: Lead, device: SourceBranch["lead"]): void {
    const goesOut = (extinction: number, direction: () => number) => () => direction() * device.current <= extinction;
    const { fuse, contact } = lead;
    if (fuse) {
      put("in-line fuse", owner, "melts", () => (device.element?.theta ?? 0) >= 1);
      put(
        "in-line fuse",
        owner,
        "open",
        goesOut(fuse.extinctionCurrent, () => device.fuseGap.direction),
      );
    }
    if (!contact) return;
    const worked = (wanted: "open" | "close") => () =>
      contact.operations.some(({ time, action }) => action === wanted && isNow(time));
    put(part, owner, "contact opens", worked("open"));
    put(part, owner, "contact closes", worked("close"));
    put(
      part,
      owner,
      "contact arc ends",
      goesOut(contact.extinctionCurrent, () => device.contactGap.direction),
    );
  }

  function supplyReasons(supply: Supply, { node, regulator, ownCrowbar }: SourceBranch): void {
    const { name, limit, shutdown, fault, setVoltage } = supply;
    const own = (kind: EventKind) => nameOf({ part: "source", owner: name }, kind);
    const struck = () => now() >= scenario.faultTime;
    put("source", name, "switched on", () => scenario.start === "dead" && isNow(supply.switchOn.time));
    const end =
      fault.kind === "voltage turned up" ? fault.endVoltage : "ceilingVoltage" in fault ? fault.ceilingVoltage : 0;
    const aim = () => {
      if (!("slew" in fault) || !struck()) return setVoltage;
      const moved = fault.slew * (now() - scenario.faultTime);
      return end > setVoltage ? Math.min(end, setVoltage + moved) : Math.max(end, setVoltage - moved);
    };
    const ramp = () => {
      const restarted = since(own("restarts"));
      const switched = since(own("switched on"));
      const time = restarted <= switched ? (limit.style === "hiccup" ? limit.rampTime : 0) : supply.switchOn.rampTime;
      const share = Math.min(restarted, switched) / time;
      return time > 0 && share < 1 ? { share, perSecond: 1 / time } : { share: 1, perSecond: 0 };
    };
    if (regulator && (limit.style === "hiccup" || limit.style === "latch off")) {
      const demand = () => (aim() * ramp().share - regulator["law"].outputVoltage) / supply.sourceResistance;
      // Read off the clock of the whole run, a steep ramp is known no better than that clock's last digit.
      const lastDigit = () =>
        (2 * Number.EPSILON * now() * aim() * ramp().perSecond) / supply.sourceResistance + ROUNDING;
      put("source", name, "limiter trips", () => demand() > limit.current - lastDigit(), limit.detectionTime);
    }
    if (shutdown) {
      const sees = () => !struck() || fault.kind !== "lost feedback" || shutdown.worksOnLostFeedback;
      const works = () => !struck() || fault.kind !== "shorted pass transistor";
      put(
        "source",
        name,
        "over-voltage shutdown",
        () => works() && sees() && node.voltage > shutdown.voltage,
        shutdown.delay,
      );
    }
    if (limit.style === "hiccup") {
      const off = () => Math.min(since(own("limiter trips")), since(own("over-voltage shutdown")));
      put("source", name, "restarts", () => Math.abs(off() - limit.offTime) <= 1e-12);
    }
    if (supply.ownCrowbar && ownCrowbar) scrReasons("own crowbar", name, supply.ownCrowbar, ownCrowbar);
  }

  function scrReasons(
    part: "crowbar" | "own crowbar",
    owner: string,
    crowbar: Crowbar,
    scr: NonNullable<typeof assembly.crowbar>,
  ): void {
    const { tripVoltage, gateDelay, holdingCurrent, latchingCurrent, turnOffTime, failTemperature } = crowbar;
    const driven = () => scr.filter.value >= tripVoltage;
    const fires = nameOf({ part, owner }, "fires");
    const kept = () => crowbar.variant === "held" && past.has(fires);
    put(part, owner, "fires", driven, gateDelay);
    const dies = () =>
      scr.current <= Math.max(holdingCurrent, latchingCurrent) && !kept() && scr.filter.value <= tripVoltage;
    put(part, owner, "stops conducting", dies, turnOffTime);
    put(part, owner, "fails short", () => scr.ladder.temperature >= failTemperature);
  }

  function loadReasons(load: Load, { node, clamp }: LoadBranch): void {
    const { name, dropOut } = load;
    put("load", name, "load changes", () => load.schedule.some(({ time }) => isNow(time)));
    if (clamp) put("load clamp", name, "fails short", () => clamp.energy >= (load.clamp?.ratings.energy ?? 0));
    if (!dropOut) return;
    put("load", name, "drops out", () => node.voltage < dropOut.voltage, dropOut.delay);
    if (dropOut.comesBack === "by itself")
      put("load", name, "comes back", () => node.voltage > dropOut.returnVoltage, dropOut.returnDelay);
  }

  /** What stands between two nodes: main fuse and series switch. */
  function pathReasons(): void {
    const { mainFuse, seriesSwitch } = assembly;
    const { mainFuse: fuse, seriesSwitch: breaker } = scenario;
    const goesOut = (path: NonNullable<typeof mainFuse>["path"], extinction: number) => () =>
      path.direction * path.current <= extinction;
    if (mainFuse && fuse) {
      put("main fuse", "", "melts", () => mainFuse.element.theta >= 1);
      put("main fuse", "", "open", goesOut(mainFuse.path, fuse.extinctionCurrent), fuse.extinctionTime);
    }
    if (!seriesSwitch || !breaker) return;
    const fired = () =>
      scenario.crowbar?.variant === "latched" && isNow(past.get(nameOf({ part: "crowbar", owner: "" }, "fires")) ?? -1);
    const starts = nameOf({ part: "series switch", owner: "" }, "starts to open");
    put("series switch", "", "starts to open", () => fired() || seriesSwitch.filter.value >= breaker.offVoltage);
    put("series switch", "", "clears", () => Math.abs(since(starts) - breaker.openingTime) <= 1e-12);
    put("series switch", "", "open", goesOut(seriesSwitch.path, breaker.extinctionCurrent), breaker.extinctionTime);
    const { reclose } = breaker;
    if (reclose)
      put("series switch", "", "recloses", () => seriesSwitch.filter.value <= reclose.onVoltage, reclose.retryTime);
  }
}
