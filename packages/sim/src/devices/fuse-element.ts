import { doubles, type Vector } from "../ode/vector.ts";
import type { Layout, Pattern } from "./device.ts";

export interface FuseElementValues {
  readonly coldResistance: number;
  readonly resistanceRatio: number;
  /** At the ambient temperature of the run, A. */
  readonly minimumMeltingCurrent: number;
  readonly stages: readonly { readonly weight: number; readonly timeConstant: number }[];
  readonly start: "warm" | "cold";
}

/**
 * The melting element of a fuse: theta = Σ theta_m, theta_m' = (w_m·q − theta_m)/tau_m, q = (i/I_inf)²·rho(theta)/rho(1),
 * rho(theta) = 1 + (k − 1)·theta, R = R_cold·rho(theta); theta = 1 is melting, and from then on it stays.
 */
export class FuseElement {
  melted = false;
  /** False for the run that asks which current would flow if this fuse did not clear: at melting it stays a conductor. */
  clears = true;
  theta = 0;
  /** Resistance at the state last looked at, ohm. */
  resistance: number = 0;
  readonly states: number[] = [];
  readonly values: FuseElementValues;
  private first = 0;
  private load = 0;
  private loadSlope = 0;
  private selfSlots: number[][] = [];
  private driveSlots: number[][] = [];
  /** By stage: how fast it falls towards rest, 1/s, and how fast q warms it, 1/s. */
  private readonly fall: readonly number[];
  private readonly gain: readonly number[];
  private readonly byMeltingCurrent: number = 0;
  /** How much rho grows with theta. */
  private readonly growth: number = 0;

  constructor(values: FuseElementValues) {
    this.values = values;
    this.resistance = values.coldResistance;
    this.fall = doubles(values.stages, ({ timeConstant }) => 1 / timeConstant);
    this.gain = doubles(values.stages, ({ weight, timeConstant }) => weight / (values.resistanceRatio * timeConstant));
    this.byMeltingCurrent = 1 / values.minimumMeltingCurrent;
    this.growth = values.resistanceRatio - 1;
  }

  declare(layout: Layout, name: string): void {
    this.values.stages.forEach(({ timeConstant }, m) => {
      const role = { kind: "relaxes", timeConstant, feedsBack: true } as const;
      this.states.push(layout.state(`${name}.theta${m + 1}`, 0.1, { role }));
    });
    // One after the other, so that the first tells where the others are.
    this.first = this.states[0];
  }

  /** `drives` are the unknowns on which the current depends. */
  pattern(pattern: Pattern, drives: readonly number[]): void {
    this.selfSlots = this.states.map((row) => this.states.map((column) => pattern.slot(row, column)));
    this.driveSlots = this.states.map((row) => drives.map((column) => pattern.slot(row, column)));
  }

  guess(y: Vector): void {
    for (const state of this.states) y[state] = 0;
  }

  held(): readonly number[] {
    return this.values.start === "cold" ? this.states : [];
  }

  refresh(y: Vector): void {
    const { first, fall } = this;
    let theta = 0;
    for (let m = 0; m < fall.length; m++) theta += y[first + m];
    if (this.melted) theta = 1;
    this.theta = theta;
    this.resistance = this.values.coldResistance * (1 + this.growth * theta);
  }

  /** Change of the resistance with theta, ohm. */
  get resistanceSlope(): number {
    return this.melted ? 0 : this.values.coldResistance * this.growth;
  }

  rates(current: number, y: Vector, out: Vector): void {
    const { first, fall, gain, byMeltingCurrent } = this;
    if (this.melted) {
      for (let m = 0; m < fall.length; m++) out[first + m] = 0;
      return;
    }
    const ratio = current * byMeltingCurrent;
    this.load = ratio * ratio;
    this.loadSlope = 2 * ratio * byMeltingCurrent;
    const heat = this.load * (1 + this.growth * this.theta);
    for (let m = 0; m < fall.length; m++) out[first + m] = gain[m] * heat - fall[m] * y[first + m];
  }

  /** `slopes[d]` is the derivative of the current to drive d, `thetaSlope` the one to theta; the current is that of the last rates. */
  jacobian(slopes: readonly number[], thetaSlope: number, J: Vector): void {
    if (this.melted) return;
    const { selfSlots, driveSlots, fall, gain, growth } = this;
    const byCurrent = this.loadSlope * (1 + growth * this.theta);
    const byTheta = this.load * growth + byCurrent * thetaSlope;
    for (let m = 0; m < fall.length; m++) {
      const factor = gain[m];
      const own = selfSlots[m];
      const drives = driveSlots[m];
      for (let j = 0; j < fall.length; j++) J[own[j]] += factor * byTheta;
      J[own[m]] -= fall[m];
      for (let d = 0; d < slopes.length; d++) J[drives[d]] += factor * byCurrent * slopes[d];
    }
  }

  /** From now on theta stays 1. */
  melt(y: Vector): void {
    const { stages } = this.values;
    let sum = 0;
    for (const state of this.states) sum += y[state];
    // The stages keep their shares; only their sum is meant to be 1.
    for (let m = 0; m < stages.length; m++) y[this.states[m]] = sum > 0 ? y[this.states[m]] / sum : stages[m].weight;
    this.melted = true;
    this.refresh(y);
  }
}
