import { type Layout, type Pattern, SLACK } from "./device.ts";

/** Foster ladder: T = T_amb + Σ dT_k, dT_k' = (R_k·P − dT_k)/tau_k. */
export class Ladder {
  temperature: number;
  readonly states: number[] = [];
  private slots: readonly (readonly [number, number])[] = [];

  constructor(
    readonly stages: readonly { readonly resistance: number; readonly timeConstant: number }[],
    private readonly ambient: number,
  ) {
    this.temperature = ambient;
  }

  declare(layout: Layout, name: string): void {
    this.stages.forEach(({ timeConstant }, k) => {
      const role = { kind: "relaxes", timeConstant, feedsBack: false } as const;
      const own = `${name}${this.stages.length > 1 ? k + 1 : ""}`;
      this.states.push(layout.state(own, 1, { role, slack: SLACK.temperature }));
    });
  }

  /** `drive` is the unknown on which the power depends. */
  pattern(pattern: Pattern, drive: number): void {
    this.slots = this.states.map((state) => [pattern.slot(state, state), pattern.slot(state, drive)] as const);
  }

  refresh(y: Float64Array): void {
    let rise = 0;
    for (const state of this.states) rise += y[state];
    this.temperature = this.ambient + rise;
  }

  rates(power: number, y: Float64Array, out: Float64Array): void {
    for (let k = 0; k < this.stages.length; k++) {
      const { resistance, timeConstant } = this.stages[k];
      out[this.states[k]] = (resistance * power - y[this.states[k]]) / timeConstant;
    }
  }

  /** `slope` is the derivative of the power to the drive. */
  jacobian(slope: number, J: Float64Array): void {
    for (let k = 0; k < this.stages.length; k++) {
      const { resistance, timeConstant } = this.stages[k];
      J[this.slots[k][0]] -= 1 / timeConstant;
      J[this.slots[k][1]] += (resistance * slope) / timeConstant;
    }
  }
}
