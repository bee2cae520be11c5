import type { Reservoir } from "./reservoir.ts";
import type { Movement, SetPoint } from "./set-point.ts";

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

/** The pieces of its law: i* = max(0, min(demand, limit, drop-out)), or the shorted pass element's current. */
export type Piece = "zero" | "demand" | "limit" | "drop-out" | "pass";

/** i* as a function of the output capacitor's voltage, the reservoir's and the set voltage, piece by piece. */
export class RegulatorLaw {
  outputVoltage = 0;
  private t = 0;

  constructor(
    private readonly values: RegulatorValues,
    private readonly target: SetPoint,
    private readonly reservoir: Reservoir | null,
  ) {}

  set(t: number, outputVoltage: number): void {
    this.t = t;
    this.outputVoltage = outputVoltage;
  }

  /** What the set voltage asks for, A; what the overload detection looks at. */
  demand(): number {
    return (this.target.value(this.t) - this.outputVoltage) / this.values.sourceResistance;
  }

  /** Of the set voltage; null while it stays. */
  movement(): Movement | null {
    return this.target.movement(this.t);
  }

  /** What the reservoir can deliver through the regulator, A. */
  dropOut(reservoirVoltage: number): number {
    return (reservoirVoltage - this.outputVoltage) / this.values.dropOutResistance;
  }

  current(piece: Piece): number {
    const { reservoir } = this;
    switch (piece) {
      case "zero":
        return 0;
      case "demand":
        return this.demand();
      case "limit":
        return this.limit();
      case "drop-out":
        return reservoir ? this.dropOut(reservoir.voltage) : Number.POSITIVE_INFINITY;
      case "pass":
        return reservoir ? (reservoir.voltage - this.outputVoltage) * this.passConductance : Number.POSITIVE_INFINITY;
    }
  }

  /** The piece that holds: the smallest of what is asked, allowed and available, but never below zero. */
  right(shorted: boolean): Piece {
    if (shorted) return this.current("pass") > 0 ? "pass" : "zero";
    let piece: Piece = "demand";
    let smallest = this.demand();
    const limit = this.limit();
    if (limit < smallest) {
      piece = "limit";
      smallest = limit;
    }
    const dropOut = this.current("drop-out");
    if (dropOut < smallest) {
      piece = "drop-out";
      smallest = dropOut;
    }
    return smallest > 0 ? piece : "zero";
  }

  /** Change of the current with the output capacitor's voltage, A/V. */
  byOutput(piece: Piece): number {
    if (piece === "demand") return -1 / this.values.sourceResistance;
    if (piece === "limit") return this.limitSlope();
    return -this.byReservoir(piece);
  }

  /** Change of the current with the reservoir's voltage, A/V. */
  byReservoir(piece: Piece): number {
    if (piece === "drop-out") return 1 / this.values.dropOutResistance;
    return piece === "pass" ? this.passConductance : 0;
  }

  private get passConductance(): number {
    const { fault } = this.values;
    return fault.kind === "shorted" ? 1 / fault.passResistance : 0;
  }

  private limit(): number {
    const { current, shortCircuitCurrent } = this.values.limit;
    if (current === null) return Number.POSITIVE_INFINITY;
    const share = Math.min(1, Math.max(0, this.outputVoltage / this.values.setVoltage));
    return shortCircuitCurrent + (current - shortCircuitCurrent) * share;
  }

  private limitSlope(): number {
    const { current, shortCircuitCurrent } = this.values.limit;
    const share = this.outputVoltage / this.values.setVoltage;
    return current === null || share <= 0 || share >= 1 ? 0 : (current - shortCircuitCurrent) / this.values.setVoltage;
  }
}
