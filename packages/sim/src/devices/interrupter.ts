import { ASLEEP, Guard, Hold } from "../hybrid/parts.ts";
import type { Rectifier } from "./device.ts";
import type { Node } from "./node.ts";

export interface InterrupterValues {
  readonly arcVoltage: number;
  readonly extinctionCurrent: number;
  readonly extinctionTime: number;
}

/**
 * A path between two nodes without inductance. Closed: i = (v_a − v_b)/R. Clearing: i = max0(v_a − v_b − V_arc)/R in the direction the current
 * had when clearing began; it opens when |i| has been below the extinction current for the extinction time.
 */
export class Interrupter implements Rectifier {
  state: "closed" | "clearing" | "open" = "closed";
  conducting = true;
  direction: 1 | -1 = 1;
  conductance = 0;
  behind = 0;
  readonly guards: readonly Guard[];
  readonly opening: Hold;

  constructor(
    readonly a: Node,
    readonly b: Node,
    readonly values: InterrupterValues,
    voltageBand: number,
    onOpen: () => void,
  ) {
    const corner = new Guard(
      () => (this.cornered ? (this.conducting ? -this.excess() : this.excess()) - voltageBand : ASLEEP),
      () => {
        this.conducting = !this.conducting;
      },
    );
    corner.active = true;
    this.opening = new Hold(
      // In the direction of the arc, so that a step across zero cannot hide the passage.
      () => values.extinctionCurrent - this.direction * this.current,
      values.extinctionTime,
      () => {
        this.state = "open";
        onOpen();
      },
    );
    this.guards = [corner, ...this.opening.guards];
  }

  get cornered(): boolean {
    return this.state === "clearing";
  }

  excess(): number {
    return this.direction * (this.a.voltage - this.b.voltage) - this.values.arcVoltage;
  }

  /** Current from a to b, A. */
  get current(): number {
    return this.conductance * (this.a.voltage - this.b.voltage - this.behind);
  }

  clear(): void {
    this.direction = this.current < 0 ? -1 : 1;
    this.state = "clearing";
    this.conducting = true;
    this.opening.enable();
  }

  close(): void {
    this.state = "closed";
    this.conducting = true;
    this.opening.disable();
  }

  prepare(resistance: number): void {
    const { a, b, state } = this;
    const conducts = state === "closed" || (state === "clearing" && this.conducting);
    const conductance = conducts ? 1 / resistance : 0;
    const behind = state === "clearing" ? this.direction * this.values.arcVoltage : 0;
    this.conductance = conductance;
    this.behind = behind;
    a.diagonal += conductance;
    a.right += conductance * behind;
    b.diagonal += conductance;
    b.right -= conductance * behind;
  }
}
