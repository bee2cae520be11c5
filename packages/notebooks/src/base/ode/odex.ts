// The non-stiff integrator, a check of short windows that no page asks for.
import { leftOut } from "../chart/left-out.ts";

/** Stands where the integrator would. */
export class Odex {
  constructor() {
    leftOut("odex");
  }
}
