import type { Vector } from "../ode/vector.ts";
import type { Layout, Pattern } from "./device.ts";
import type { Node } from "./node.ts";

/** A first-order low-pass on a node's voltage: vf' = (v − vf)/tau. */
export class SenseFilter {
  value = 0;
  state = -1;
  private slots: readonly [number, number] = [0, 0];
  /** 1/s. */
  private readonly speed: number = 0;

  constructor(
    readonly node: Node,
    readonly timeConstant: number,
  ) {
    this.speed = 1 / timeConstant;
  }

  declare(layout: Layout, name: string): void {
    this.state = layout.state(name, 1);
  }

  pattern(pattern: Pattern): void {
    this.slots = [pattern.slot(this.state, this.state), pattern.slot(this.state, this.node.unknown)];
  }

  refresh(y: Vector): void {
    this.value = y[this.state];
  }

  rates(out: Vector): void {
    out[this.state] = (this.node.voltage - this.value) * this.speed;
  }

  jacobian(J: Vector): void {
    J[this.slots[0]] -= this.speed;
    J[this.slots[1]] += this.speed;
  }
}
