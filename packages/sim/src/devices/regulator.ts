import { ASLEEP, Guard, Hold, Timer } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, type Surroundings } from "./device.ts";
import type { Node } from "./node.ts";
import { type Piece, RegulatorLaw, type RegulatorValues } from "./regulator-law.ts";
import type { Reservoir } from "./reservoir.ts";
import { type Movement, SetPoint } from "./set-point.ts";

type Phase = "running" | "off" | "latched" | "waiting";

/** A regulator that feeds a node: is' = (i* − is)/tau, i* by set voltage, limit and drop-out; it only sources. */
export class Regulator extends Device {
  phase: Phase = "running";
  delivered = 0;
  private shorted = false;
  /** Its own shutdown has lost the feedback too. */
  private blind = false;
  private piece: Piece = "demand";
  private is = -1;
  private slots: { is: number; vo: number; vres: number; node: number } = { is: 0, vo: 0, vres: 0, node: 0 };
  /** Of the bleeder, S, and of the response, 1/s. */
  private readonly bleeder: number = 0;
  private readonly speed: number = 0;
  private readonly target: SetPoint;
  private readonly law: RegulatorLaw;
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
    this.bleeder = 1 / values.bleederResistance;
    this.speed = 1 / values.responseTime;
    this.target = new SetPoint(values.setVoltage);
    this.law = new RegulatorLaw(values, this.target, reservoir);
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
            () => this.law.demand() - (limit.current ?? 0),
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

  /** Of the voltage it aims at, at the moment; null while that stays. */
  get movement(): Movement | null {
    return this.law.movement();
  }

  /** Why the present state cannot be a healthy operating point; null where it can. */
  unhealthy(lowestReservoir: number | null): string | null {
    if (this.law.current("limit") < this.delivered) return "its target lies above its current limit";
    if (this.law.current("drop-out") < this.delivered)
      return "its reservoir is too low for it to regulate (above the drop-out bound)";
    if (lowestReservoir !== null && this.law.dropOut(lowestReservoir) < this.delivered) {
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

  override guess(y: Vector): void {
    y[this.is] = this.node.voltage / this.values.bleederResistance;
  }

  /**
   * A healthy supply regulates or idles. Its limits are left out of the search, where a fold back could catch the line far below, and are
   * looked at in the point found.
   */
  override choosePiece(): void {
    this.piece = this.phase === "running" && this.law.demand() > 0 ? "demand" : "zero";
  }

  override prepare(t: number, y: Vector): void {
    const { node } = this;
    const delivered = y[this.is];
    this.delivered = delivered;
    this.law.set(t, y[node.state]);
    node.right += delivered;
    node.diagonal += this.bleeder;
  }

  override rates(_t: number, _y: Vector, out: Vector): void {
    out[this.is] = (this.law.current(this.piece) - this.delivered) * this.speed;
  }

  override timeRates(t: number, _y: Vector, out: Vector): void {
    const { sourceResistance, responseTime } = this.values;
    if (this.piece === "demand") out[this.is] += this.target.slopeAt(t) / (sourceResistance * responseTime);
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { slots, speed } = this;
    J[slots.is] -= speed;
    J[slots.node] += 1;
    const byReservoir = this.law.byReservoir(this.piece);
    if (byReservoir !== 0) J[slots.vres] += byReservoir * speed;
    J[slots.vo] += this.law.byOutput(this.piece) * speed;
  }

  override shift(elapsed: number): void {
    this.target.shift(elapsed);
  }

  override memory(): readonly { readonly name: string; readonly value: number }[] {
    return [{ name: `the voltage that ${this.name} aims at`, value: this.target.aim }];
  }

  override fed(): number {
    const { voltage } = this.node;
    return voltage * (this.delivered - voltage * this.bleeder);
  }

  private run(rampTime: number): void {
    this.phase = "running";
    this.target.ramp(rampTime);
    if (rampTime > 0) this.rampEnd.start(rampTime);
    this.law.set(0, this.law.outputVoltage);
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

  private rightPiece(): Piece {
    return this.phase === "running" ? this.law.right(this.shorted) : "zero";
  }

  /** How far, in A, the law of the present piece is from the right one. */
  private misplaced(): number {
    if (this.phase !== "running") return ASLEEP;
    const right = this.rightPiece();
    return right === this.piece ? 0 : Math.abs(this.law.current(this.piece) - this.law.current(right));
  }
}
