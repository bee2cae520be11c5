import { Guard, Hold, Timer } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, type Surroundings } from "./device.ts";
import { Interrupter, type InterrupterValues } from "./interrupter.ts";
import type { Node } from "./node.ts";
import { SenseFilter } from "./sense-filter.ts";

export interface SeriesSwitchValues extends InterrupterValues {
  readonly resistance: number;
  readonly senseTimeConstant: number;
  readonly offVoltage: number;
  readonly openingTime: number;
  readonly reclose: { readonly onVoltage: number; readonly retryTime: number } | null;
}

/** A transistor or relay contact that disconnects the radio: opens above its off voltage, recloses on request. */
export class SeriesSwitch extends Device {
  readonly filter: SenseFilter;
  readonly path: Interrupter;
  private phase: "closed" | "opening" | "clearing" | "open" = "closed";
  private crossSlots: readonly [number, number] = [0, 0];
  private readonly starts: Guard;
  private readonly opens: Timer;
  private readonly retry: Hold | null;
  private latched = false;

  constructor(
    readonly name: string,
    readonly values: SeriesSwitchValues,
    from: Node,
    to: Node,
    sensed: Node,
    private readonly id: number,
    private readonly surroundings: Surroundings,
  ) {
    super();
    const { journal, voltageBand } = surroundings;
    this.filter = new SenseFilter(sensed, values.senseTimeConstant);
    this.path = new Interrupter(from, to, values, voltageBand, () => {
      this.phase = "open";
      journal.log(id, "open", "the arc can no longer be held");
      if (!this.latched) this.retry?.enable();
    });
    this.starts = new Guard(
      () => this.filter.value - values.offVoltage,
      () => this.begin("the sensed voltage has reached the off voltage"),
    );
    this.starts.active = true;
    this.opens = new Timer(() => {
      this.phase = "clearing";
      journal.log(id, "clears", "its opening time has passed");
      this.path.clear();
    });
    const { reclose } = values;
    this.retry = reclose
      ? new Hold(
          () => reclose.onVoltage - this.filter.value,
          reclose.retryTime,
          () => {
            this.phase = "closed";
            this.path.close();
            this.starts.active = true;
            journal.log(id, "recloses", "the sensed voltage has stayed below the on voltage for the retry time");
          },
        )
      : null;
    this.guards.push(this.starts, ...this.path.guards, ...(this.retry?.guards ?? []));
    this.timers.push(this.opens, this.path.opening.timer, ...(this.retry ? [this.retry.timer] : []));
  }

  get state(): "closed" | "opening" | "clearing" | "open" {
    return this.phase;
  }

  get current(): number {
    return this.path.current;
  }

  /** Begins to open on behalf of a crowbar with disconnect; it never recloses. */
  disconnect(): void {
    this.latched = true;
    this.retry?.disable();
    if (this.phase === "closed") this.begin("the crowbar has fired");
  }

  private begin(cause: string): void {
    this.starts.active = false;
    this.phase = "opening";
    this.opens.start(this.values.openingTime);
    this.surroundings.journal.log(this.id, "starts to open", cause);
  }

  override declare(layout: Layout): void {
    this.filter.declare(layout, "vf_switch");
  }

  override pattern(pattern: Pattern): void {
    this.filter.pattern(pattern);
    const { a, b } = this.path;
    this.crossSlots = [pattern.slot(a.unknown, b.unknown), pattern.slot(b.unknown, a.unknown)];
  }

  override guess(y: Vector): void {
    y[this.filter.state] = 0;
  }

  override prepare(_t: number, y: Vector): void {
    this.filter.refresh(y);
    this.path.prepare(this.values.resistance);
  }

  override rates(_t: number, _y: Vector, out: Vector): void {
    this.filter.rates(out);
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    this.filter.jacobian(J);
    J[this.crossSlots[0]] += this.path.conductance;
    J[this.crossSlots[1]] += this.path.conductance;
  }

  override dissipation(): number {
    return this.current * (this.path.a.voltage - this.path.b.voltage);
  }
}
