import { Timer } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, type Surroundings } from "./device.ts";
import type { Node } from "./node.ts";

export interface LampLawValues {
  readonly nominalPower: number;
  readonly nominalVoltage: number;
  readonly nominalTemperature: number;
  readonly coldTemperature: number;
  readonly exponent: number;
  readonly heatCapacity: number;
  /** New nominal powers, W. */
  readonly schedule: readonly { readonly time: number; readonly value: number }[];
}

/** Incandescent lamp: R(T) = R_cold·(T/T_0)^a, C_th·T' = v²/R − P_0·(T⁴ − T_0⁴)/(T_n⁴ − T_0⁴); P_0 at V_n fixes R(T_n). */
export class Lamp extends Device {
  private state = -1;
  private power: number = 0;
  private voltage = 0;
  private conductance = 0;
  private conductanceSlope = 0;
  private temperature = 0;
  private slots: readonly number[] = [];

  constructor(
    readonly name: string,
    readonly values: LampLawValues,
    readonly node: Node,
    id: number,
    { journal }: Surroundings,
  ) {
    super();
    this.power = values.nominalPower;
    for (const { time, value } of values.schedule) {
      const timer = new Timer(() => {
        this.power = value;
        journal.log(id, "load changes", "its schedule");
      });
      timer.start(time);
      this.timers.push(timer);
    }
  }

  override declare(layout: Layout): void {
    this.state = layout.state(`${this.name}.T`, 1);
  }

  override pattern(pattern: Pattern): void {
    const { state, node } = this;
    const drive = node.state >= 0 ? node.state : node.unknown;
    this.slots = [
      pattern.slot(state, state),
      pattern.slot(state, drive),
      pattern.slot(node.unknown, state),
      pattern.slot(node.unknown, drive),
    ];
  }

  override guess(y: Vector): void {
    y[this.state] = this.values.nominalTemperature;
  }

  /** Cold filament, for a start from dead. */
  cool(y: Vector): void {
    y[this.state] = this.values.coldTemperature;
  }

  override prepare(_t: number, y: Vector): void {
    const { values } = this;
    this.temperature = y[this.state];
    const atNominal = this.power / (values.nominalVoltage * values.nominalVoltage);
    const warm = Math.max(this.temperature, 1);
    this.conductance = atNominal * (values.nominalTemperature / warm) ** values.exponent;
    this.conductanceSlope = (-values.exponent * this.conductance) / warm;
    if (this.node.state >= 0) {
      this.voltage = y[this.node.state];
      this.node.inject(-this.current);
    } else {
      this.node.conduct(this.conductance, 0);
    }
  }

  get current(): number {
    return this.conductance * (this.node.state >= 0 ? this.voltage : this.node.voltage);
  }

  override rates(_t: number, _y: Vector, out: Vector): void {
    if (this.node.state < 0) this.voltage = this.node.voltage;
    const { heatCapacity } = this.values;
    out[this.state] = (this.voltage * this.voltage * this.conductance - this.radiated()) / heatCapacity;
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { slots, voltage, values } = this;
    const { heatCapacity, nominalTemperature, coldTemperature } = values;
    const radiatedSlope = (4 * this.power * this.temperature ** 3) / (nominalTemperature ** 4 - coldTemperature ** 4);
    J[slots[0]] += (voltage * voltage * this.conductanceSlope - radiatedSlope) / heatCapacity;
    J[slots[1]] += (2 * voltage * this.conductance) / heatCapacity;
    J[slots[2]] -= voltage * this.conductanceSlope;
    // Without a capacitor the node already carries the conductance on its diagonal.
    if (this.node.state >= 0) J[slots[3]] -= this.conductance;
  }

  /** What the filament is fed; its own heat is not a store here. */
  override dissipation(): number {
    return this.node.voltage * this.current;
  }

  private radiated(): number {
    const { nominalTemperature, coldTemperature } = this.values;
    return (
      (this.power * (this.temperature ** 4 - coldTemperature ** 4)) / (nominalTemperature ** 4 - coldTemperature ** 4)
    );
  }
}
