import type { Headed } from "./chart-types.ts";

/** How long loads stood above which voltage, and what they stand. Voltages in V, times in s. */
export interface WithstandData extends Headed {
  /** From top to bottom, a plot each. */
  readonly loads: readonly LoadWithstand[];
}

/** What one load saw above its window beside what it stands: V and s. */
export interface LoadWithstand {
  /** Name of the load. */
  readonly label: string;
  /** Largest voltage of its window. */
  readonly maximum: number;
  /** Largest voltage it saw. */
  readonly peak: number;
  /** Longest unbroken time above each voltage, voltages rising; times are above 0 and never rise. */
  readonly found: readonly WithstandPoint[];
  /** Longest time allowed above each voltage, voltages rising; empty: no time above the maximum is allowed. */
  readonly allowed: readonly WithstandPoint[];
  /** Where the allowed times come from: true where nobody published them. */
  readonly assumed: boolean;
  /** Where found came nearest to allowed, or went farthest beyond it; null where it was never above one of the voltages. */
  readonly nearest: { readonly voltage: number; readonly found: number; readonly allowed: number } | null;
}

/** A time above a voltage: V and s. */
export interface WithstandPoint {
  readonly voltage: number;
  readonly time: number;
}
