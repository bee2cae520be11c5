import { ASLEEP, Guard, Hold } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, SLACK, type Surroundings } from "./device.ts";
import { Ladder } from "./ladder.ts";
import type { Node } from "./node.ts";
import { SenseFilter } from "./sense-filter.ts";

export interface ScrValues {
  readonly gateKeptOn: boolean;
  readonly tripVoltage: number;
  readonly senseTimeConstant: number;
  readonly gateDelay: number;
  readonly thresholdVoltage: number;
  readonly slopeResistance: number;
  readonly stubResistance: number;
  readonly inductance: number;
  readonly leakResistance: number;
  readonly holdingCurrent: number;
  readonly latchingCurrent: number;
  readonly turnOffTime: number;
  readonly failTemperature: number;
  /** Junction to ambient, the last stage case to ambient. */
  readonly thermalStages: readonly { readonly resistance: number; readonly timeConstant: number }[];
}

/** The first step after a firing: C2 and the branch inductance may ring at about 1 MHz. */
const FIRST_STEP = 1e-8;

/**
 * An SCR across a node with its sense filter, gate delay, branch inductance and junction ladder. Its current is never negative;
 * it stops when the current has stayed below the holding current for the turn-off time with the gate not driven.
 */
export class Scr extends Device {
  readonly filter: SenseFilter;
  readonly ladder: Ladder;
  conducting = false;
  failedShort = false;
  current = 0;
  private forward = false;
  private latchedIn = false;
  private firedOnce = false;
  private i = -1;
  private slots: readonly number[] = [];
  private readonly inverseInductance: number = 0;
  private readonly branchResistance: number = 0;
  private readonly leak: number = 0;
  private readonly gate: Hold;
  private readonly turnOff: Hold;
  private readonly onFire: () => void;

  constructor(
    readonly name: string,
    readonly values: ScrValues,
    readonly node: Node,
    id: number,
    { journal, ambient, currentBand, voltageBand }: Surroundings,
    onFire: () => void,
  ) {
    super();
    this.filter = new SenseFilter(node, values.senseTimeConstant);
    this.ladder = new Ladder(values.thermalStages, ambient);
    this.onFire = onFire;
    this.inverseInductance = 1 / values.inductance;
    this.branchResistance = values.slopeResistance + values.stubResistance;
    this.leak = 1 / values.leakResistance;
    this.gate = new Hold(
      () => this.filter.value - values.tripVoltage,
      values.gateDelay,
      (y) => {
        y[this.i] = 0;
        this.current = 0;
        this.conducting = true;
        this.firedOnce = true;
        this.latchedIn = false;
        this.forward = this.node.voltage > values.thresholdVoltage;
        journal.log(id, "fires", "the sensed voltage has stayed above the trip point for the turn-on delay");
        journal.suggestStep(FIRST_STEP);
        if (!this.failedShort) this.turnOff.enable();
        this.onFire();
      },
    );
    this.gate.enable();
    this.turnOff = new Hold(
      () => Math.min(this.sustaining - this.current, this.undriven),
      values.turnOffTime,
      (y) => {
        this.lose(y);
        this.conducting = false;
        this.forward = false;
        this.gate.enable();
        journal.log(id, "stops conducting", "its current has stayed below the holding current for the turn-off time");
      },
    );
    const reverses = new Guard(
      () => (this.forward ? -this.current - currentBand : ASLEEP),
      (y) => {
        this.lose(y);
        this.forward = false;
      },
    );
    const resumes = new Guard(
      () => (this.conducting && !this.forward ? this.node.voltage - values.thresholdVoltage - voltageBand : ASLEEP),
      () => {
        this.forward = true;
      },
    );
    const latches = new Guard(
      () => (this.conducting && !this.latchedIn ? this.current - values.latchingCurrent : ASLEEP),
      () => {
        this.latchedIn = true;
      },
    );
    const fails = new Guard(
      () => (this.failedShort ? ASLEEP : this.ladder.temperature - values.failTemperature),
      () => {
        this.failedShort = true;
        this.conducting = true;
        this.turnOff.disable();
        this.gate.disable();
        journal.log(id, "fails short", "the junction has passed the temperature above which it counts as destroyed");
      },
    );
    for (const guard of [reverses, resumes, fails]) guard.active = true;
    latches.active = values.latchingCurrent > 0;
    this.guards.push(...this.gate.guards, ...this.turnOff.guards, reverses, resumes, latches, fails);
    this.timers.push(this.gate.timer, this.turnOff.timer);
  }

  /** Sensed voltage behind its filter, V. */
  get sensed(): number {
    return this.filter.value;
  }

  override declare(layout: Layout): void {
    this.ladder.declare(layout, this.name === "" ? "dTj" : `${this.name}.dTj`);
    this.filter.declare(layout, this.name === "" ? "vf" : `${this.name}.vf`);
    this.i = layout.state(this.name === "" ? "i_scr" : `${this.name}.i_scr`, 1, { slack: SLACK.crowbarBranch });
  }

  override pattern(pattern: Pattern): void {
    this.filter.pattern(pattern);
    this.ladder.pattern(pattern, this.i);
    const { i, node } = this;
    this.slots = [pattern.slot(i, i), pattern.slot(i, node.unknown), pattern.slot(node.unknown, i)];
  }

  override guess(y: Vector): void {
    y[this.i] = 0;
    y[this.filter.state] = 0;
  }

  override prepare(_t: number, y: Vector): void {
    const { node } = this;
    const current = y[this.i];
    this.current = current;
    this.filter.refresh(y);
    this.ladder.refresh(y);
    node.right -= current;
    if (!this.conducting) node.diagonal += this.leak;
  }

  override rates(_t: number, y: Vector, out: Vector): void {
    this.filter.rates(out);
    this.ladder.rates(this.junctionPower, y, out);
    out[this.i] = this.rise;
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { values, slots, current } = this;
    this.filter.jacobian(J);
    this.ladder.jacobian(values.thresholdVoltage + 2 * values.slopeResistance * current, J);
    J[slots[2]] -= 1;
    if (!this.forward) return;
    J[slots[0]] -= this.branchResistance * this.inverseInductance;
    J[slots[1]] += this.inverseInductance;
  }

  override dissipation(): number {
    const { current } = this;
    const { voltage } = this.node;
    const leak = this.conducting ? 0 : voltage * voltage * this.leak;
    return this.junctionPower + this.values.stubResistance * current * current + leak;
  }

  override stored(y: Vector): number {
    return 0.5 * this.values.inductance * y[this.i] * y[this.i];
  }

  /** di/dt of the branch, A/s. */
  get rise(): number {
    if (!this.forward) return 0;
    const drop = this.values.thresholdVoltage + this.branchResistance * this.current;
    return (this.node.voltage - drop) * this.inverseInductance;
  }

  /** Power in the junction, W. */
  get junctionPower(): number {
    const { values, current } = this;
    return (values.thresholdVoltage + values.slopeResistance * current) * current;
  }

  private get sustaining(): number {
    return this.latchedIn || this.values.latchingCurrent <= 0
      ? this.values.holdingCurrent
      : this.values.latchingCurrent;
  }

  /** Above zero while the gate is not driven. */
  private get undriven(): number {
    return this.values.gateKeptOn && this.firedOnce ? -1 : this.values.tripVoltage - this.filter.value;
  }

  private lose(y: Vector): void {
    this.loss += this.stored(y);
    y[this.i] = 0;
    this.current = 0;
  }
}
