import type { Balance } from "../hybrid/types.ts";
import type { Vector } from "../ode/vector.ts";

/** Names of the flows that make up the balance; a heat is named after who turns it out. */
export const FED = "fed";
export const TURNED_OVER = "turned over";
export const HEAT = "heat of ";

/** A balance of less is held against this much, J: what idles turns over nothing but roundings. */
export const LEAST_ENERGY = 1e-3;

/** What a step may leave open: of the energy it turns over itself, and of all that was turned over up to it. */
const OF_THE_STEP = 0.1;
const OF_ALL = 0.02;
/** Of the energy stored: where two large numbers are subtracted, their last digits stay. */
const ROUNDING = 1e-14;

/** Energy fed minus heat is what the line stores more: each step is held against it. */
export class EnergyBalance implements Balance {
  private heats: readonly number[] = [];
  private fed = 0;
  private turnedOver = 0;
  private held = 0;

  constructor(
    private readonly stored: (y: Vector) => number,
    private readonly relative: number,
  ) {}

  /** Finds its flows among all. */
  read(flows: readonly string[]): void {
    this.heats = flows.flatMap((name, f) => (name.startsWith(HEAT) ? [f] : []));
    this.fed = flows.indexOf(FED);
    this.turnedOver = flows.indexOf(TURNED_OVER);
  }

  amount(y: Vector): number {
    this.held = this.stored(y);
    return this.held;
  }

  gain(integrals: Vector): number {
    const { heats } = this;
    let sum = integrals[this.fed];
    for (let k = 0; k < heats.length; k++) sum -= integrals[heats[k]];
    return sum;
  }

  allowed(integrals: Vector, totals: Vector): number {
    const { turnedOver, relative } = this;
    const all = Math.max(totals[turnedOver], LEAST_ENERGY);
    return relative * (OF_THE_STEP * integrals[turnedOver] + OF_ALL * all) + ROUNDING * Math.abs(this.held);
  }
}
