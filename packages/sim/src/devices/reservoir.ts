import { Guard, Timer } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, type Surroundings } from "./device.ts";

export interface ReservoirValues {
  readonly rawVoltage: number;
  readonly rawResistance: number;
  readonly capacitance: number;
  readonly ripple: boolean;
  readonly mainsFrequency: number;
}

/** Steps of this share of a half-wave at most: a charging pulse is followed, and between pulses the wave's top is not stepped over. */
const LONGEST_STEP = { charging: 1 / 16, idle: 1 / 8 } as const;

/** C_res·vres' = i_rect − draw, i_rect = max0(V_raw(t) − vres)/R_raw; V_raw constant, or |sin| of the mains. */
export class Reservoir extends Device {
  voltage = 0;
  state = -1;
  private charging = true;
  private connected = true;
  private rectified = 0;
  /** Time since the start of the present half-wave at the start of the segment, s. */
  private phase = 0;
  /** The wave has a corner at each of its zeros; who does not charge does not feel it, so nothing stops there. */
  private readonly halfWave: Timer;
  private selfSlot = 0;
  private drawSlot = 0;

  constructor(
    readonly name: string,
    readonly values: ReservoirValues,
    /** Index of the state that is drawn from it. */
    private readonly draw: () => number,
    { voltageBand }: Surroundings,
  ) {
    super();
    const corner = new Guard(
      () => (this.charging ? -this.surplus : this.surplus) - voltageBand,
      () => {
        this.charging = !this.charging;
        this.awaitHalfWave();
      },
    );
    corner.active = true;
    this.guards.push(corner);
    this.halfWave = new Timer(() => {
      this.phase = 0;
      this.awaitHalfWave();
    });
    if (values.ripple) this.timers.push(this.halfWave);
  }

  /** Not switched on yet: no mains behind the rectifier. */
  disconnect(): void {
    this.connected = false;
    this.charging = false;
  }

  connect(): void {
    this.connected = true;
    this.rectified = this.raw(0);
    this.charging = this.surplus > 0;
    this.awaitHalfWave();
  }

  get halfPeriod(): number {
    return 0.5 / this.values.mainsFrequency;
  }

  override declare(layout: Layout): void {
    this.state = layout.state(`${this.name}.vres`, 1);
  }

  override pattern(pattern: Pattern): void {
    this.selfSlot = pattern.slot(this.state, this.state);
    this.drawSlot = pattern.slot(this.state, this.draw());
  }

  override guess(y: Vector): void {
    y[this.state] = this.values.rawVoltage;
  }

  override held(): readonly number[] {
    return this.values.ripple ? [this.state] : [];
  }

  override choosePiece(y: Vector): void {
    this.charging = this.connected && this.raw(0) > y[this.state];
    this.awaitHalfWave();
  }

  override prepare(t: number, y: Vector): void {
    this.voltage = y[this.state];
    this.rectified = this.raw(t);
  }

  override rates(_t: number, y: Vector, out: Vector): void {
    out[this.state] = (this.chargingCurrent - y[this.draw()]) / this.values.capacitance;
  }

  override timeRates(t: number, _y: Vector, out: Vector): void {
    const { ripple, rawVoltage, rawResistance, capacitance } = this.values;
    if (!ripple || !this.charging) return;
    const omega = Math.PI / this.halfPeriod;
    out[this.state] += (rawVoltage * omega * Math.cos(omega * (this.phase + t))) / (rawResistance * capacitance);
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { rawResistance, capacitance } = this.values;
    if (this.charging) J[this.selfSlot] -= 1 / (rawResistance * capacitance);
    J[this.drawSlot] -= 1 / capacitance;
  }

  override shift(elapsed: number): void {
    this.phase = (this.phase + elapsed) % this.halfPeriod;
  }

  override memory(): readonly { readonly name: string; readonly value: number }[] {
    return this.values.ripple
      ? [{ name: `the phase of the mains of ${this.name}`, value: this.phase / this.halfPeriod }]
      : [];
  }

  override maxStep(): number {
    if (!this.values.ripple) return Number.POSITIVE_INFINITY;
    return this.halfPeriod * (this.charging ? LONGEST_STEP.charging : LONGEST_STEP.idle);
  }

  /** The mains never rest. */
  override restless(): boolean {
    return this.values.ripple;
  }

  private awaitHalfWave(): void {
    if (!this.values.ripple || !this.charging) this.halfWave.stop();
    else this.halfWave.start(this.halfPeriod - this.phase);
  }

  /** Rectified voltage above the reservoir's, V. */
  private get surplus(): number {
    return this.rectified - this.voltage;
  }

  private get chargingCurrent(): number {
    return this.charging ? this.surplus / this.values.rawResistance : 0;
  }

  private raw(t: number): number {
    const { ripple, rawVoltage } = this.values;
    if (!this.connected) return 0;
    return ripple ? rawVoltage * Math.abs(Math.sin((Math.PI * (this.phase + t)) / this.halfPeriod)) : rawVoltage;
  }
}
