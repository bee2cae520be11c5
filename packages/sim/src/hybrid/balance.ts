import type { Vector } from "../ode/vector.ts";
import type { Balance } from "./types.ts";

/** After so many halvings a step is taken as it is: what is still open then is no matter of its length. */
const MOST_RETAKES = 8;

/**
 * Holds each step against what the system conserves. The error estimate looks at states alone; a step that passed over a steep corner of a law can
 * satisfy it and still lose what it carried. Such a step is taken again, shorter.
 */
export class BalanceCheck {
  private amount = 0;
  private retakes = 0;
  private readonly balance: Balance | null;

  constructor(balance: Balance | null) {
    this.balance = balance;
  }

  /** A segment starts with state y. */
  start(y: Vector): void {
    this.retakes = 0;
    if (this.balance) this.amount = this.balance.amount(y);
  }

  /** Takes in a piece that ends with y; true where it must be taken again. `integrals` are the flows' over the piece, `totals` those before it. */
  open(y: Vector, integrals: Vector, totals: Vector): boolean {
    const { balance } = this;
    if (!balance) return false;
    const after = balance.amount(y);
    const defect = Math.abs(balance.gain(integrals) - (after - this.amount));
    if (defect > balance.allowed(integrals, totals) && this.retakes < MOST_RETAKES) {
      this.retakes++;
      return true;
    }
    this.retakes = 0;
    this.amount = after;
    return false;
  }
}
