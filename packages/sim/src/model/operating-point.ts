import { Device } from "../devices/device.ts";
import { copy, type Vector, zeros } from "../ode/vector.ts";
import type { Line } from "./line.ts";

/** Inverse of the first time step, 1/s, and by how much it shrinks where the line moves and where it moves by less than STILL, relative. */
const FIRST_SHIFT = 1e6;
const MOVING = 0.5;
const RESTING = 0.1;
const STILL = 1e-3;

/** Relative change of the last steps. Rounding of volts over milliohms leaves some 1e-12, and copper warms with the current's square. */
const SETTLED = 1e-11;

/**
 * The healthy operating point: every state at rest, from a guess with the loads at full voltage. Implicit Euler steps that grow without
 * bound (pseudo-transient continuation: Kelley & Keyes, SIAM J. Numer. Anal. 35, 1998) follow the line from there to the
 * point nearest to full voltage; the last ones are Newton's. Null where none is reached.
 * @param kept states that keep the value of the guess, beside those that devices hold
 * @param from a state to begin with instead of the guess
 */
export function operatingPoint(
  line: Line,
  devices: readonly Device[],
  kept: readonly number[] = [],
  from: Vector | null = null,
): number[] | null {
  const y = zeros(line.size);
  for (const device of devices) device.guess(y);
  if (from) copy(from, y);
  const held = new Set([...kept, ...devices.flatMap((device) => device.held())]);
  const slots = line.slotsOf(held);
  const choosing = devices.filter((device) => device.choosePiece !== Device.prototype.choosePiece);
  const rate = zeros(line.size);
  let settled = 0;
  let shift = FIRST_SHIFT;
  for (let i = 0; i < 400; i++) {
    for (let k = 0; k < 2; k++) {
      line.observe(0, y);
      for (const device of choosing) device.choosePiece(y);
      line.reconcile(y);
    }
    line.rates(0, y, rate);
    line.linearize(0, y);
    line.holdRows(slots);
    for (const state of held) rate[state] = 0;
    if (!line.factor(Math.max(shift, 1e-12))) return null;
    line.solve(rate);
    let largest = 0;
    for (let s = 0; s < y.length; s++) {
      y[s] += rate[s];
      largest = Math.max(largest, Math.abs(rate[s]) / Math.max(line.scales[s], Math.abs(y[s])));
    }
    if (!Number.isFinite(largest)) return null;
    settled = largest < SETTLED && shift < 1e-9 ? settled + 1 : 0;
    shift *= largest < STILL ? RESTING : MOVING;
    if (settled === 2) return y;
  }
  return null;
}
