import { Guard } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device } from "./device.ts";
import type { Node } from "./node.ts";

export interface BatteryCellValues {
  readonly capacityAh: number;
  readonly initialCharge: number;
  /** EMF over state of charge, both rising, at least two points; the first and last lines go on beyond them. */
  readonly emfTable: readonly { readonly charge: number; readonly emf: number }[];
}

/** The state of charge behind a battery's node: its capacitance follows the slope of the EMF table. */
export class BatteryCell extends Device {
  private segment: number;
  private emf: number = 0;
  private readonly startEmf: number = 0;

  constructor(
    readonly values: BatteryCellValues,
    readonly node: Node,
    startEmf: number,
    voltageBand: number,
  ) {
    super();
    this.startEmf = startEmf;
    this.emf = startEmf;
    this.segment = this.segmentOf(startEmf);
    this.applySlope();
    if (values.emfTable.length > 2) {
      // A corner is a state of charge: on a flat piece a microvolt of delay would be hours of it.
      const band = voltageBand * Math.min(...values.emfTable.slice(1).map((_, k) => this.capacitanceOf(k)));
      const corner = new Guard(
        () => this.beyond() - band,
        () => {
          this.segment = this.segmentOf(this.emf);
          this.applySlope();
        },
      );
      corner.active = true;
      this.guards.push(corner);
    }
  }

  override prepare(_t: number, y: Vector): void {
    this.emf = y[this.node.state];
  }

  /** State of charge, 0…1. */
  get charge(): number {
    return this.values.initialCharge + this.chargeAt(this.emf) - this.chargeAt(this.startEmf);
  }

  private chargeAt(emf: number): number {
    const { from, to } = this.line(this.segmentOf(emf));
    return from.charge + ((emf - from.emf) * (to.charge - from.charge)) / (to.emf - from.emf);
  }

  private segmentOf(emf: number): number {
    const { emfTable } = this.values;
    let segment = 0;
    while (segment < emfTable.length - 2 && emf > emfTable[segment + 1].emf) segment++;
    return segment;
  }

  private line(segment: number): { from: { charge: number; emf: number }; to: { charge: number; emf: number } } {
    return { from: this.values.emfTable[segment], to: this.values.emfTable[segment + 1] };
  }

  private applySlope(): void {
    this.node.capacitance = this.capacitanceOf(this.segment);
  }

  private capacitanceOf(segment: number): number {
    const { from, to } = this.line(segment);
    return (3600 * this.values.capacityAh * (to.charge - from.charge)) / (to.emf - from.emf);
  }

  /** Charge in coulombs beyond the ends of the present piece of the table, by its own slope. */
  private beyond(): number {
    const { from, to } = this.line(this.segment);
    const below = this.segment > 0 ? from.emf - this.emf : -1;
    const above = this.segment < this.values.emfTable.length - 2 ? this.emf - to.emf : -1;
    return Math.max(below, above) * this.node.capacitance;
  }
}
