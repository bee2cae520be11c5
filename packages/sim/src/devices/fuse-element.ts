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
  resistance: number;
  readonly states: number[] = [];
  readonly values: FuseElementValues;
  private load = 0;
  private loadSlope = 0;
  private selfSlots: number[][] = [];
  private driveSlots: number[][] = [];

  constructor(values: FuseElementValues) {
    this.values = values;
    this.resistance = values.coldResistance;
  }

  declare(layout: Layout, name: string): void {
    this.values.stages.forEach(({ timeConstant }, m) => {
      const role = { kind: "relaxes", timeConstant, feedsBack: true } as const;
      this.states.push(layout.state(`${name}.theta${m + 1}`, 0.1, { role }));
    });
  }

  /** `drives` are the unknowns on which the current depends. */
  pattern(pattern: Pattern, drives: readonly number[]): void {
    this.selfSlots = this.states.map((row) => this.states.map((column) => pattern.slot(row, column)));
    this.driveSlots = this.states.map((row) => drives.map((column) => pattern.slot(row, column)));
  }

  guess(y: Float64Array): void {
    for (const state of this.states) y[state] = 0;
  }

  held(): readonly number[] {
    return this.values.start === "cold" ? this.states : [];
  }

  refresh(y: Float64Array): void {
    let theta = 0;
    for (let m = 0; m < this.states.length; m++) theta += y[this.states[m]];
    this.theta = this.melted ? 1 : theta;
    this.resistance = this.values.coldResistance * (1 + (this.values.resistanceRatio - 1) * this.theta);
  }

  /** Change of the resistance with theta, ohm. */
  get resistanceSlope(): number {
    return this.melted ? 0 : this.values.coldResistance * (this.values.resistanceRatio - 1);
  }

  rates(current: number, y: Float64Array, out: Float64Array): void {
    const { stages, resistanceRatio: k, minimumMeltingCurrent } = this.values;
    const ratio = current / minimumMeltingCurrent;
    this.load = this.melted ? 0 : ratio * ratio;
    this.loadSlope = this.melted ? 0 : (2 * ratio) / minimumMeltingCurrent;
    const q = (this.load * (1 + (k - 1) * this.theta)) / k;
    for (let m = 0; m < stages.length; m++) {
      const state = this.states[m];
      out[state] = this.melted ? 0 : (stages[m].weight * q - y[state]) / stages[m].timeConstant;
    }
  }

  /** `slopes[d]` is the derivative of the current to drive d, `thetaSlope` the one to theta; the current is that of the last rates. */
  jacobian(slopes: readonly number[], thetaSlope: number, J: Float64Array): void {
    if (this.melted) return;
    const { stages, resistanceRatio: k } = this.values;
    const rho = 1 + (k - 1) * this.theta;
    for (let m = 0; m < stages.length; m++) {
      const factor = stages[m].weight / (k * stages[m].timeConstant);
      const byTheta = factor * (this.load * (k - 1) + this.loadSlope * rho * thetaSlope);
      for (let j = 0; j < stages.length; j++) {
        J[this.selfSlots[m][j]] += byTheta - (j === m ? 1 / stages[m].timeConstant : 0);
      }
      for (let d = 0; d < slopes.length; d++) J[this.driveSlots[m][d]] += factor * this.loadSlope * rho * slopes[d];
    }
  }

  /** From now on theta stays 1. */
  melt(y: Float64Array): void {
    const { stages } = this.values;
    let sum = 0;
    for (const state of this.states) sum += y[state];
    // The stages keep their shares; only their sum is meant to be 1.
    for (let m = 0; m < stages.length; m++) y[this.states[m]] = sum > 0 ? y[this.states[m]] / sum : stages[m].weight;
    this.melted = true;
    this.refresh(y);
  }
}
