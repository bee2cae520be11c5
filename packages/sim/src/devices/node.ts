import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern } from "./device.ts";

/**
 * A node of the line. With a capacitor in series with a resistance to ground: v = vC + r·iC, vC' = iC/C, iC the sum of the currents
 * flowing in; without one the currents sum to zero. Parts stamp what flows in and what they conduct, then the voltage is solved.
 */
export class Node extends Device {
  voltage = 0;
  /** Of the node's equation, S and A. Parts that most lines have add to them without a call: they do so at every stage of every step. */
  diagonal = 0;
  right = 0;
  /** Scratch of the hub's elimination. */
  pivot = 0;
  /** Index of the capacitor's state; −1 without one. */
  state = -1;
  unknown = -1;
  readonly resistance: number = 0;
  readonly name: string;
  /** A battery's EMF is counted as a feed, not as a store. */
  readonly feeds: boolean;
  private capacitorVoltage = 0;
  private readonly initial: number = 0;
  private slots: readonly number[] = [];
  /** Of the resistance before the capacitor, S; 0 without one. */
  private readonly conductance: number = 0;
  private ownCapacitance = 0;
  /** Rate of the capacitor's voltage by ampere, 1/F. */
  private elastance = 0;
  private readonly slack: number = 0;

  constructor(name: string, capacitance: number, resistance: number, initial: number, feeds = false, slack = 1) {
    super();
    this.slack = slack;
    this.name = name;
    this.capacitance = capacitance;
    this.resistance = resistance;
    this.conductance = capacitance > 0 ? 1 / resistance : 0;
    this.initial = initial;
    this.feeds = feeds;
  }

  /** F; a battery's cell changes it with the state of charge. */
  get capacitance(): number {
    return this.ownCapacitance;
  }

  set capacitance(value: number) {
    this.ownCapacitance = value;
    this.elastance = value > 0 ? 1 / value : 0;
  }

  override declare(layout: Layout): void {
    layout.unknown((index) => {
      this.unknown = index;
    });
    if (this.capacitance <= 0) return;
    const role = { kind: this.feeds ? "keeps" : "returns" } as const;
    this.state = layout.state(this.name, 1, { role, slack: this.slack });
  }

  override pattern(pattern: Pattern): void {
    const { unknown, state } = this;
    this.slots = [pattern.slot(unknown, unknown)];
    if (state >= 0) {
      this.slots = [
        ...this.slots,
        pattern.slot(unknown, state),
        pattern.slot(state, unknown),
        pattern.slot(state, state),
      ];
    }
  }

  override guess(y: Vector): void {
    if (this.state >= 0) y[this.state] = this.initial;
  }

  override held(): readonly number[] {
    return this.feeds ? [this.state] : [];
  }

  override prepare(_t: number, y: Vector): void {
    const { state, conductance } = this;
    this.diagonal = conductance;
    if (state < 0) {
      this.right = 0;
      return;
    }
    const voltage = y[state];
    this.capacitorVoltage = voltage;
    this.right = voltage * conductance;
  }

  /** A current that flows in, A. */
  inject(current: number): void {
    this.right += current;
  }

  /** A conductance to ground behind a voltage: draws conductance·(v − behind). */
  conduct(conductance: number, behind: number): void {
    this.diagonal += conductance;
    this.right += conductance * behind;
  }

  /** Current into the capacitor, A. */
  get capacitorCurrent(): number {
    return (this.voltage - this.capacitorVoltage) * this.conductance;
  }

  override rates(_t: number, _y: Vector, out: Vector): void {
    if (this.state >= 0) out[this.state] = this.capacitorCurrent * this.elastance;
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { slots, conductance } = this;
    J[slots[0]] -= this.diagonal;
    if (this.state < 0) return;
    const rate = conductance * this.elastance;
    J[slots[1]] += conductance;
    J[slots[2]] += rate;
    J[slots[3]] -= rate;
  }

  override dissipation(): number {
    const current = this.capacitorCurrent;
    return current * current * this.resistance;
  }

  override fed(): number {
    return this.feeds ? -this.capacitorVoltage * this.capacitorCurrent : 0;
  }

  override stored(y: Vector): number {
    return this.state < 0 || this.feeds ? 0 : 0.5 * this.capacitance * y[this.state] * y[this.state];
  }
}
