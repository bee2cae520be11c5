import { Guard, Hold, Timer } from "../hybrid/parts.ts";
import { Device, type Layout, type Pattern, type Surroundings } from "./device.ts";
import type { Node } from "./node.ts";
import type { Reservoir } from "./reservoir.ts";
import { SetPoint } from "./set-point.ts";

export interface RegulatorValues {
  readonly setVoltage: number;
  readonly sourceResistance: number;
  readonly responseTime: number;
  readonly bleederResistance: number;
  readonly limit: {
    /** Largest current at the set voltage; null: no limit. */
    readonly current: number | null;
    /** Largest current into a short; equal to `current` unless it folds back. */
    readonly shortCircuitCurrent: number;
    /** Overload this long without a break stops it; null: it never stops. */
    readonly detectionTime: number | null;
    /** Time until it restarts; null: it stays off. */
    readonly offTime: number | null;
    readonly rampTime: number;
  };
  readonly dropOutResistance: number;
  readonly shutdown: { readonly voltage: number; readonly delay: number; readonly worksOnLostFeedback: boolean } | null;
  readonly fault:
    | { readonly kind: "none" }
    | { readonly kind: "moves"; readonly endVoltage: number; readonly slew: number; readonly feedbackLost: boolean }
    | { readonly kind: "shorted"; readonly passResistance: number };
  /** Null: it runs from the start. */
  readonly switchOn: { readonly time: number; readonly rampTime: number } | null;
}

type Phase = "running" | "off" | "latched" | "waiting";

/** The pieces of its law: i* = max(0, min(demand, limit, drop-out)), or the shorted pass element's current. */
type Piece = "zero" | "demand" | "limit" | "drop-out" | "pass";

/** A regulator that feeds a node: is' = (i* − is)/tau, i* by set voltage, limit and drop-out; it only sources. */
export class Regulator extends Device {
  phase: Phase = "running";
  delivered = 0;
  private shorted = false;
  /** Its own shutdown has lost the feedback too. */
  private blind = false;
  private piece: Piece = "demand";
  private is = -1;
  private t = 0;
  private capacitorVoltage = 0;
  private slots: { is: number; vo: number; vres: number; node: number } = { is: 0, vo: 0, vres: 0, node: 0 };
  private readonly target: SetPoint;
  private readonly overload: Hold | null;
  private readonly overVoltage: Hold | null;
  private readonly restart: Timer;
  private readonly rampEnd: Timer;
  private readonly arrival: Timer;

  constructor(
    readonly name: string,
    readonly values: RegulatorValues,
    readonly node: Node,
    readonly reservoir: Reservoir | null,
    id: number,
    { journal, currentBand }: Surroundings,
  ) {
    super();
    const { limit, shutdown, switchOn } = values;
    this.target = new SetPoint(values.setVoltage);
    const corner = new Guard(
      () => this.misplaced() - currentBand,
      () => {
        this.piece = this.rightPiece();
      },
    );
    corner.active = true;
    this.overload =
      limit.current !== null && limit.detectionTime !== null
        ? new Hold(
            () => this.demand() - (limit.current ?? 0),
            limit.detectionTime,
            () => {
              journal.log(
                id,
                "limiter trips",
                "the demanded current has stayed above the limit for the detection time",
              );
              this.stop(limit.offTime);
            },
          )
        : null;
    this.overVoltage = shutdown
      ? new Hold(
          () => this.node.voltage - shutdown.voltage,
          shutdown.delay,
          () => {
            journal.log(
              id,
              "over-voltage shutdown",
              "the terminal voltage has stayed above the shutdown level for its delay",
            );
            this.stop(limit.offTime);
          },
        )
      : null;
    this.restart = new Timer(() => {
      journal.log(id, "restarts", "its off time has passed");
      this.run(limit.rampTime);
    });
    this.rampEnd = new Timer(() => this.target.endRamp());
    this.arrival = new Timer(() => this.target.arrive());
    this.guards.push(corner, ...(this.overload?.guards ?? []), ...(this.overVoltage?.guards ?? []));
    this.timers.push(this.restart, this.rampEnd, this.arrival);
    for (const hold of [this.overload, this.overVoltage]) if (hold) this.timers.push(hold.timer);
    if (switchOn) {
      this.phase = "waiting";
      this.piece = "zero";
      reservoir?.disconnect();
      const on = new Timer(() => {
        reservoir?.connect();
        journal.log(id, "switched on", "its switch-on time has come");
        this.run(switchOn.rampTime);
      });
      on.start(switchOn.time);
      this.timers.push(on);
    } else {
      this.watch();
    }
  }

  /** The line's fault strikes. */
  strike(): void {
    const { fault } = this.values;
    if (fault.kind === "moves") {
      this.arrival.start(this.target.move(fault.endVoltage, fault.slew));
      this.blind = fault.feedbackLost && !this.values.shutdown?.worksOnLostFeedback;
      if (this.blind) this.overVoltage?.disable();
    } else if (fault.kind === "shorted") {
      this.shorted = true;
      // What has not been switched on has nothing behind it yet.
      if (this.phase !== "waiting") this.phase = "running";
      this.restart.stop();
      this.overload?.disable();
      this.overVoltage?.disable();
      this.piece = this.rightPiece();
    }
  }

  get limiting(): boolean {
    return this.phase === "running" && this.piece === "limit";
  }

  /** Why the present state cannot be a healthy operating point; null where it can. */
  unhealthy(lowestReservoir: number | null): string | null {
    if (this.piece === "limit") return "its target lies above its current limit";
    if (this.piece === "drop-out") return "its reservoir is too low for it to regulate (above the drop-out bound)";
    if (lowestReservoir !== null && this.dropOutCurrent(lowestReservoir) < this.delivered) {
      return "at the lowest point of the ripple its reservoir is too low for it to regulate (above the drop-out bound)";
    }
    return null;
  }

  override declare(layout: Layout): void {
    this.is = layout.state(`${this.name}.is`, 1);
  }

  /** Index of the delivered current's state. */
  get state(): number {
    return this.is;
  }

  override pattern(pattern: Pattern): void {
    const { is, node, reservoir } = this;
    this.slots = {
      is: pattern.slot(is, is),
      vo: pattern.slot(is, node.state),
      vres: reservoir ? pattern.slot(is, reservoir.state) : -1,
      node: pattern.slot(node.unknown, is),
    };
  }

  override guess(y: Float64Array): void {
    y[this.is] = this.node.voltage / this.values.bleederResistance;
  }

  override choosePiece(): void {
    this.piece = this.rightPiece();
  }

  override prepare(t: number, y: Float64Array): void {
    this.t = t;
    this.delivered = y[this.is];
    this.capacitorVoltage = y[this.node.state];
    this.node.inject(this.delivered);
    this.node.conduct(1 / this.values.bleederResistance, 0);
  }

  override rates(_t: number, _y: Float64Array, out: Float64Array): void {
    out[this.is] = (this.lawOf(this.piece) - this.delivered) / this.values.responseTime;
  }

  override timeRates(t: number, _y: Float64Array, out: Float64Array): void {
    const { sourceResistance, responseTime } = this.values;
    if (this.piece === "demand") out[this.is] += this.target.slopeAt(t) / (sourceResistance * responseTime);
  }

  override jacobian(_t: number, _y: Float64Array, J: Float64Array): void {
    const { values, slots } = this;
    const tau = values.responseTime;
    J[slots.is] -= 1 / tau;
    J[slots.node] += 1;
    let byOutput = 0;
    let byReservoir = 0;
    if (this.piece === "demand") byOutput = -1 / values.sourceResistance;
    else if (this.piece === "drop-out") byReservoir = 1 / values.dropOutResistance;
    else if (this.piece === "pass" && values.fault.kind === "shorted") byReservoir = 1 / values.fault.passResistance;
    else if (this.piece === "limit") byOutput = this.limitSlope();
    if (byReservoir !== 0) {
      J[slots.vres] += byReservoir / tau;
      byOutput = -byReservoir;
    }
    J[slots.vo] += byOutput / tau;
  }

  override shift(elapsed: number): void {
    this.target.shift(elapsed);
  }

  override fed(): number {
    return this.node.voltage * (this.delivered - this.node.voltage / this.values.bleederResistance);
  }

  private run(rampTime: number): void {
    this.phase = "running";
    this.target.ramp(rampTime);
    if (rampTime > 0) this.rampEnd.start(rampTime);
    this.t = 0;
    this.piece = this.rightPiece();
    this.watch();
  }

  private watch(): void {
    if (this.shorted) return;
    this.overload?.enable();
    if (!this.blind) this.overVoltage?.enable();
  }

  private stop(offTime: number | null): void {
    this.phase = offTime === null ? "latched" : "off";
    this.piece = "zero";
    this.overload?.disable();
    this.overVoltage?.disable();
    this.rampEnd.stop();
    this.target.endRamp();
    if (offTime !== null) this.restart.start(offTime);
  }

  private demand(): number {
    return (this.target.value(this.t) - this.capacitorVoltage) / this.values.sourceResistance;
  }

  private limitCurrent(): number {
    const { current, shortCircuitCurrent } = this.values.limit;
    if (current === null) return Number.POSITIVE_INFINITY;
    const share = Math.min(1, Math.max(0, this.capacitorVoltage / this.values.setVoltage));
    return shortCircuitCurrent + (current - shortCircuitCurrent) * share;
  }

  private limitSlope(): number {
    const { current, shortCircuitCurrent } = this.values.limit;
    const share = this.capacitorVoltage / this.values.setVoltage;
    return current === null || share <= 0 || share >= 1 ? 0 : (current - shortCircuitCurrent) / this.values.setVoltage;
  }

  private dropOutCurrent(reservoirVoltage: number): number {
    return (reservoirVoltage - this.capacitorVoltage) / this.values.dropOutResistance;
  }

  private lawOf(piece: Piece): number {
    const { fault } = this.values;
    switch (piece) {
      case "zero":
        return 0;
      case "demand":
        return this.demand();
      case "limit":
        return this.limitCurrent();
      case "drop-out":
        return this.reservoir ? this.dropOutCurrent(this.reservoir.voltage) : Number.POSITIVE_INFINITY;
      case "pass":
        return this.reservoir && fault.kind === "shorted"
          ? (this.reservoir.voltage - this.capacitorVoltage) / fault.passResistance
          : Number.POSITIVE_INFINITY;
    }
  }

  private rightPiece(): Piece {
    if (this.phase !== "running") return "zero";
    let piece: Piece = this.shorted ? "pass" : "demand";
    let smallest = this.lawOf(piece);
    if (!this.shorted) {
      const limit = this.limitCurrent();
      if (limit < smallest) {
        piece = "limit";
        smallest = limit;
      }
      const dropOut = this.lawOf("drop-out");
      if (dropOut < smallest) {
        piece = "drop-out";
        smallest = dropOut;
      }
    }
    return smallest > 0 ? piece : "zero";
  }

  /** How far, in A, the law of the present piece is from the right one. */
  private misplaced(): number {
    if (this.phase !== "running") return -1;
    const right = this.rightPiece();
    return right === this.piece ? 0 : Math.abs(this.lawOf(this.piece) - this.lawOf(right));
  }
}
