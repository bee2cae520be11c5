import { Guard } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, type Surroundings } from "./device.ts";
import { FuseElement, type FuseElementValues } from "./fuse-element.ts";
import { Interrupter, type InterrupterValues } from "./interrupter.ts";
import type { Node } from "./node.ts";

/** The fuse between two nodes: a melting element whose gap is an interrupter without inductance. */
export class MainFuse extends Device {
  readonly element: FuseElement;
  readonly path: Interrupter;
  private thetaSlots: readonly (readonly [number, number])[] = [];
  private crossSlots: readonly [number, number] = [0, 0];
  /** Derivatives of the current to the two nodes' voltages, S. */
  private readonly slopes: [number, number] = [0, 0];

  constructor(
    readonly name: string,
    values: FuseElementValues & InterrupterValues,
    readonly from: Node,
    readonly to: Node,
    id: number,
    { journal, voltageBand }: Surroundings,
  ) {
    super();
    this.element = new FuseElement(values);
    this.path = new Interrupter(from, to, values, voltageBand, () =>
      journal.log(id, "open", "the arc can no longer be held"),
    );
    const melts = new Guard(
      () => this.element.theta - 1,
      (y) => {
        melts.active = false;
        this.element.melt(y);
        if (!this.element.clears) return;
        journal.log(id, "melts", "the element has reached its melting point");
        this.path.clear();
      },
    );
    melts.active = true;
    this.guards.push(melts, ...this.path.guards);
    this.timers.push(this.path.opening.timer);
  }

  get state(): "intact" | "clearing" | "open" {
    return this.path.state === "closed" ? "intact" : this.path.state;
  }

  get current(): number {
    return this.path.current;
  }

  override declare(layout: Layout): void {
    this.element.declare(layout, this.name);
  }

  override pattern(pattern: Pattern): void {
    const { from, to, element } = this;
    element.pattern(pattern, [from.unknown, to.unknown]);
    this.thetaSlots = element.states.map(
      (state) => [pattern.slot(from.unknown, state), pattern.slot(to.unknown, state)] as const,
    );
    this.crossSlots = [pattern.slot(from.unknown, to.unknown), pattern.slot(to.unknown, from.unknown)];
  }

  override guess(y: Vector): void {
    this.element.guess(y);
  }

  override held(): readonly number[] {
    return this.element.held();
  }

  override prepare(_t: number, y: Vector): void {
    this.element.refresh(y);
    this.path.prepare(this.element.resistance);
  }

  override rates(_t: number, y: Vector, out: Vector): void {
    this.element.rates(this.current, y, out);
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { path, element, current } = this;
    const g = path.conductance;
    J[this.crossSlots[0]] += g;
    J[this.crossSlots[1]] += g;
    const byTheta = -current * g * element.resistanceSlope;
    for (let m = 0; m < this.thetaSlots.length; m++) {
      const pair = this.thetaSlots[m];
      J[pair[0]] -= byTheta;
      J[pair[1]] += byTheta;
    }
    this.slopes[0] = g;
    this.slopes[1] = -g;
    element.jacobian(this.slopes, byTheta, J);
  }

  override dissipation(): number {
    return this.current * (this.from.voltage - this.to.voltage);
  }
}
