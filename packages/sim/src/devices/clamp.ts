import { ASLEEP, Guard } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, type Rectifier, type Surroundings } from "./device.ts";
import { Ladder } from "./ladder.ts";
import type { Node } from "./node.ts";

export interface ClampValues {
  readonly breakdownVoltage: number;
  readonly slopeResistance: number;
  readonly thermalResistance: number;
  readonly thermalTimeConstant: number;
  /** J; null where it does not fail short. */
  readonly failureEnergy: number | null;
  readonly shortResistance: number;
}

/** i = max0(v − V_BR)/r_d; when the energy taken reaches its rating it becomes a resistor for good. */
export class Clamp extends Device implements Rectifier {
  conducting = false;
  failedShort = false;
  energy = 0;
  readonly ladder: Ladder;
  private state = -1;
  private conductance = 0;
  private behind = 0;
  private energySlot = 0;

  constructor(
    readonly name: string,
    readonly values: ClampValues,
    readonly node: Node,
    id: number,
    { journal, voltageBand }: Surroundings,
  ) {
    super();
    this.ladder = new Ladder([{ resistance: values.thermalResistance, timeConstant: values.thermalTimeConstant }], 0);
    const corner = new Guard(
      () => (this.cornered ? (this.conducting ? -this.excess() : this.excess()) - voltageBand : ASLEEP),
      () => {
        this.conducting = !this.conducting;
      },
    );
    const { failureEnergy } = values;
    const fails = new Guard(
      () => (failureEnergy === null || this.failedShort ? ASLEEP : this.energy - failureEnergy),
      () => {
        this.failedShort = true;
        journal.log(id, "fails short", "the energy it has taken has reached its rating");
      },
    );
    corner.active = true;
    fails.active = true;
    this.guards.push(corner, fails);
  }

  get cornered(): boolean {
    return !this.failedShort;
  }

  excess(): number {
    return this.node.voltage - this.values.breakdownVoltage;
  }

  get current(): number {
    return this.conductance * (this.node.voltage - this.behind);
  }

  /** Index of the state of the energy taken. */
  get energyState(): number {
    return this.state;
  }

  get riseAboveAmbient(): number {
    return this.ladder.temperature;
  }

  override declare(layout: Layout): void {
    this.ladder.declare(layout, this.name === "" ? "dTclamp" : `${this.name}.dTclamp`);
    const name = this.name === "" ? "clamp energy" : `${this.name} clamp energy`;
    this.state = layout.state(name, 0.01, { role: { kind: "adds up" } });
  }

  /** What it has taken counts from the start, also where it conducts at rest. */
  override held(): readonly number[] {
    return [this.state];
  }

  override pattern(pattern: Pattern): void {
    this.ladder.pattern(pattern, this.node.unknown);
    this.energySlot = pattern.slot(this.state, this.node.unknown);
  }

  override prepare(_t: number, y: Vector): void {
    this.energy = y[this.state];
    this.ladder.refresh(y);
    const { values } = this;
    if (this.failedShort) {
      this.conductance = 1 / values.shortResistance;
      this.behind = 0;
    } else {
      this.conductance = this.conducting ? 1 / values.slopeResistance : 0;
      this.behind = values.breakdownVoltage;
    }
    if (this.conductance > 0) this.node.conduct(this.conductance, this.behind);
  }

  override rates(_t: number, y: Vector, out: Vector): void {
    const power = this.dissipation();
    this.ladder.rates(power, y, out);
    out[this.state] = power;
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const slope = this.current + this.node.voltage * this.conductance;
    this.ladder.jacobian(slope, J);
    J[this.energySlot] += slope;
  }

  override dissipation(): number {
    return this.node.voltage * this.current;
  }
}
