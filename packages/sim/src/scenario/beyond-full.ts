import type { Battery } from "./types.ts";

/** A battery that is full rises at least ten times as steeply as before; half of that is taken as a table that knows of it. */
const STEEP = 5;

/**
 * Charged by this share of its capacity beyond full, a real lead battery stands some 50 mV above what a straight line tells: less than that
 * changes nothing that is told of a line.
 */
export const TELLING = 1e-3;

/**
 * Whether a battery's EMF table tells of the steep rise beyond full. A straight line, or a table that ends at full, does not: with it a voltage
 * that is reached within minutes of overcharge comes after hours.
 *
 * @param battery of the complete scenario; only its table is looked at
 * @returns true where the piece just beyond full is at least five times as steep as the table up to full
 *
 * @example risesBeyondFull({ emfTable: null }) // false
 */
export function risesBeyondFull({ emfTable }: Pick<Battery, "emfTable">): boolean {
  if (emfTable === null || emfTable.length < 2) return false;
  const upTo = emfTable.findLastIndex(({ charge }) => charge <= 1);
  // A table that begins beyond full is of nothing else.
  if (upTo < 0) return true;
  const slope = (from: number, to: number): number =>
    (emfTable[to].emf - emfTable[from].emf) / (emfTable[to].charge - emfTable[from].charge);
  // The last piece goes on beyond its end.
  const beyond = Math.min(upTo, emfTable.length - 2);
  return beyond > 0 && slope(beyond, beyond + 1) >= STEEP * slope(0, beyond);
}
