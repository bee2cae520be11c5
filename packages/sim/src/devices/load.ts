import { ASLEEP, Guard, Hold, Timer } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Pattern, type Surroundings } from "./device.ts";
import type { Node } from "./node.ts";

export interface DropOutValues {
  readonly voltage: number;
  readonly delay: number;
  readonly sleepCurrent: number;
  readonly returnVoltage: number;
  readonly returnDelay: number;
  readonly comesBack: boolean;
}

export interface LoadValues {
  readonly kind: "resistive" | "constant current" | "constant power";
  /** ohm, A or W. */
  readonly value: number;
  /** V; 0 for resistive loads. */
  readonly kneeVoltage: number;
  readonly schedule: readonly { readonly time: number; readonly value: number }[];
  readonly dropOut: DropOutValues | null;
}

/**
 * Draws from its node a current that depends on the voltage of the node's capacitor: vc/R, I or P/vc; below the knee voltage a
 * current or power load is the resistor that continues it. Asleep after a drop-out it draws its sleep current.
 */
export class Load extends Device {
  asleep = false;
  drops = 0;
  private value: number = 0;
  private belowKnee = false;
  private voltage = 0;
  private draw = 0;
  private slope = 0;
  private slot = 0;
  private readonly sleepCurrent: number = 0;

  constructor(
    readonly name: string,
    readonly values: LoadValues,
    readonly node: Node,
    id: number,
    { journal, voltageBand }: Surroundings,
  ) {
    super();
    this.value = values.value;
    this.sleepCurrent = values.dropOut?.sleepCurrent ?? 0;
    if (values.kind !== "resistive" || values.dropOut) {
      const corner = new Guard(
        () => (this.cornered ? (this.belowKnee ? 1 : -1) * (this.voltage - this.corner) - voltageBand : ASLEEP),
        () => {
          this.belowKnee = !this.belowKnee;
        },
      );
      corner.active = true;
      this.guards.push(corner);
    }
    for (const { time, value } of values.schedule) {
      const timer = new Timer(() => {
        this.value = value;
        journal.log(id, "load changes", "its schedule");
      });
      timer.start(time);
      this.timers.push(timer);
    }
    const { dropOut } = values;
    if (dropOut) {
      const returns = new Hold(
        () => this.node.voltage - dropOut.returnVoltage,
        dropOut.returnDelay,
        () => {
          this.asleep = false;
          journal.log(id, "comes back", "its voltage has stayed above the return voltage");
          drops.enable();
        },
      );
      const drops = new Hold(
        () => dropOut.voltage - this.node.voltage,
        dropOut.delay,
        () => {
          this.asleep = true;
          this.belowKnee = this.voltage < this.corner;
          this.drops++;
          journal.log(id, "drops out", "its voltage has stayed below the drop-out voltage");
          if (dropOut.comesBack) returns.enable();
        },
      );
      drops.enable();
      this.guards.push(...drops.guards, ...returns.guards);
      this.timers.push(drops.timer, returns.timer);
    }
  }

  /** V, below which the load no longer is what its kind says. */
  get knee(): number {
    return this.values.kneeVoltage;
  }

  /** V, below which the present law goes on as a resistor; a resistive load asleep has no knee of its own. */
  private get corner(): number {
    return this.values.kind === "resistive" && this.values.dropOut ? this.values.dropOut.voltage : this.knee;
  }

  private get cornered(): boolean {
    return this.values.kind !== "resistive" || this.asleep;
  }

  /** A, taken from the node. */
  get current(): number {
    return this.node.state < 0 ? this.slope * this.node.voltage : this.draw;
  }

  /** How fast its voltage would run away by itself, 1/s: where it draws more the lower that is, it feeds what oscillates. */
  get feeding(): number {
    return this.slope < 0 ? -this.slope / this.node.capacitance : 0;
  }

  override pattern(pattern: Pattern): void {
    if (this.node.state >= 0) this.slot = pattern.slot(this.node.unknown, this.node.state);
  }

  override choosePiece(y: Vector): void {
    if (this.node.state >= 0 && this.values.kind !== "resistive") this.belowKnee = y[this.node.state] < this.knee;
  }

  override prepare(_t: number, y: Vector): void {
    if (this.node.state < 0) {
      this.slope = 1 / this.value;
      this.voltage = this.node.voltage;
      this.node.conduct(this.slope, 0);
      return;
    }
    this.voltage = y[this.node.state];
    this.law();
    this.node.right -= this.draw;
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    if (this.node.state >= 0) J[this.slot] -= this.slope;
  }

  override dissipation(): number {
    return this.node.voltage * this.current;
  }

  private law(): void {
    const { values, value, voltage } = this;
    const asleep = this.asleep && values.dropOut !== null;
    if (values.kind === "resistive" && !asleep) {
      this.slope = 1 / value;
      this.draw = voltage * this.slope;
      return;
    }
    const constant = asleep || values.kind === "constant current";
    const current = asleep ? this.sleepCurrent : value;
    if (this.belowKnee || voltage <= 0) {
      const { corner } = this;
      this.slope = (constant ? current : value / corner) / corner;
      this.draw = voltage * this.slope;
    } else if (constant) {
      this.slope = 0;
      this.draw = current;
    } else {
      this.draw = value / voltage;
      this.slope = -this.draw / voltage;
    }
  }
}
