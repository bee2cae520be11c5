import { ASLEEP, Guard } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Pattern, type Surroundings } from "./device.ts";
import type { Node } from "./node.ts";

export interface PanelValues {
  readonly shortCircuitCurrent: number;
  readonly openCircuitVoltage: number;
  readonly kneeVoltage: number;
  readonly failsShorted: boolean;
}

/** exp overflows near 709; beyond this multiple of the knee voltage the law is frozen. */
const LARGEST_EXPONENT = 600;

/** A panel behind a controller that fails shorted: is = max0(I_sc·(1 − (exp(vo/V_a) − 1)/(exp(V_oc/V_a) − 1))), nothing before. */
export class Panel extends Device {
  private struck = false;
  private delivering = false;
  private voltage = 0;
  private slot = 0;

  constructor(
    readonly name: string,
    readonly values: PanelValues,
    readonly node: Node,
    { currentBand }: Surroundings,
  ) {
    super();
    const corner = new Guard(
      () => (this.struck ? (this.delivering ? -this.law() : this.law()) - currentBand : ASLEEP),
      () => {
        this.delivering = !this.delivering;
      },
    );
    corner.active = true;
    this.guards.push(corner);
  }

  strike(): void {
    this.struck = this.values.failsShorted;
    this.delivering = this.struck && this.law() > 0;
  }

  /** A, what the panel delivers. */
  get delivered(): number {
    return this.struck && this.delivering ? this.law() : 0;
  }

  override pattern(pattern: Pattern): void {
    this.slot = pattern.slot(this.node.unknown, this.node.state);
  }

  override prepare(_t: number, y: Vector): void {
    this.voltage = y[this.node.state];
    this.node.inject(this.delivered);
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    if (!this.struck || !this.delivering) return;
    const { shortCircuitCurrent, openCircuitVoltage, kneeVoltage } = this.values;
    const x = this.voltage / kneeVoltage;
    if (x > LARGEST_EXPONENT) return;
    J[this.slot] -= (shortCircuitCurrent * Math.exp(x)) / (kneeVoltage * Math.expm1(openCircuitVoltage / kneeVoltage));
  }

  override fed(): number {
    return this.node.voltage * this.delivered;
  }

  private law(): number {
    const { shortCircuitCurrent, openCircuitVoltage, kneeVoltage } = this.values;
    const x = Math.min(LARGEST_EXPONENT, this.voltage / kneeVoltage);
    return shortCircuitCurrent * (1 - Math.expm1(x) / Math.expm1(openCircuitVoltage / kneeVoltage));
  }
}
