import { Device, type Layout, type Pattern, SLACK, type Surroundings } from "../../packages/sim/src/devices/device.ts";
import type { Node } from "../../packages/sim/src/devices/node.ts";
import { ASLEEP, Guard } from "../../packages/sim/src/hybrid/parts.ts";
import type { Vector } from "../../packages/sim/src/ode/vector.ts";

export interface BleederValues {
  /** ohm */
  readonly resistance: number;
  /** K/W */
  readonly thermalResistance: number;
  /** s */
  readonly thermalTimeConstant: number;
  /** K above ambient, above which it opens. */
  readonly largestRise: number;
}

/** A resistor to ground that opens for good when it gets too hot: i = v/R, ΔT' = (R_th·i·v − ΔT)/τ. */
export class Bleeder extends Device {
  open = false;
  private state = -1;
  private rise: number = 0;
  private own = 0;
  private byVoltage = 0;

  constructor(
    readonly name: string,
    readonly values: BleederValues,
    readonly node: Node,
    id: number,
    { journal }: Surroundings,
  ) {
    super();
    const opens = new Guard(
      () => (this.open ? ASLEEP : this.rise - values.largestRise),
      () => {
        this.open = true;
        journal.log(id, "open", "it has become too hot");
      },
    );
    opens.active = true;
    this.guards.push(opens);
  }

  get current(): number {
    return this.open ? 0 : this.node.voltage / this.values.resistance;
  }

  override declare(layout: Layout): void {
    const role = { kind: "relaxes", timeConstant: this.values.thermalTimeConstant, feedsBack: false } as const;
    this.state = layout.state(`${this.name}.rise`, 1, { role, slack: SLACK.temperature });
  }

  override pattern(pattern: Pattern): void {
    this.own = pattern.slot(this.state, this.state);
    this.byVoltage = pattern.slot(this.state, this.node.unknown);
  }

  override prepare(_t: number, y: Vector): void {
    this.rise = y[this.state];
    if (!this.open) this.node.conduct(1 / this.values.resistance, 0);
  }

  override rates(_t: number, y: Vector, out: Vector): void {
    const { thermalResistance, thermalTimeConstant } = this.values;
    out[this.state] = (thermalResistance * this.dissipation() - y[this.state]) / thermalTimeConstant;
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { thermalResistance, thermalTimeConstant } = this.values;
    J[this.own] -= 1 / thermalTimeConstant;
    // The power is v²/R: its derivative by the voltage is 2·i.
    J[this.byVoltage] += (2 * thermalResistance * this.current) / thermalTimeConstant;
  }

  override dissipation(): number {
    return this.node.voltage * this.current;
  }
}
