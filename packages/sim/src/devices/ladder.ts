import { doubles, type Vector } from "../ode/vector.ts";
import { type Layout, type Pattern, SLACK } from "./device.ts";

/** Foster ladder: T = T_amb + Σ dT_k, dT_k' = (R_k·P − dT_k)/tau_k. */
export class Ladder {
  temperature: number = 0;
  readonly states: number[] = [];
  private first = 0;
  private slots: readonly (readonly [number, number])[] = [];
  /** By stage: how fast it falls towards rest, 1/s, and how fast a watt warms it, K/J. */
  private readonly fall: readonly number[];
  private readonly gain: readonly number[];

  constructor(
    readonly stages: readonly { readonly resistance: number; readonly timeConstant: number }[],
    private readonly ambient: number,
  ) {
    this.temperature = ambient;
    this.fall = doubles(stages, ({ timeConstant }) => 1 / timeConstant);
    this.gain = doubles(stages, ({ resistance, timeConstant }) => resistance / timeConstant);
  }

  declare(layout: Layout, name: string): void {
    this.stages.forEach(({ timeConstant }, k) => {
      const role = { kind: "relaxes", timeConstant, feedsBack: false } as const;
      const own = `${name}${this.stages.length > 1 ? k + 1 : ""}`;
      this.states.push(layout.state(own, 1, { role, slack: SLACK.temperature }));
    });
    // One after the other, so that the first tells where the others are.
    this.first = this.states[0];
  }

  /** `drive` is the unknown on which the power depends. */
  pattern(pattern: Pattern, drive: number): void {
    this.slots = this.states.map((state) => [pattern.slot(state, state), pattern.slot(state, drive)] as const);
  }

  refresh(y: Vector): void {
    const { first, fall } = this;
    let rise = 0;
    for (let k = 0; k < fall.length; k++) rise += y[first + k];
    this.temperature = this.ambient + rise;
  }

  rates(power: number, y: Vector, out: Vector): void {
    const { first, gain, fall } = this;
    for (let k = 0; k < fall.length; k++) out[first + k] = gain[k] * power - fall[k] * y[first + k];
  }

  /** `slope` is the derivative of the power to the drive. */
  jacobian(slope: number, J: Vector): void {
    const { slots, gain, fall } = this;
    for (let k = 0; k < fall.length; k++) {
      const pair = slots[k];
      J[pair[0]] -= fall[k];
      J[pair[1]] += gain[k] * slope;
    }
  }
}
