import type { Lead } from "./lead-types.ts";
import type { Clamp } from "./protector-types.ts";

interface LoadBase {
  /** As the verdict calls it; unique among the loads. */
  readonly name: string;
  /** From the radio side to its terminals. */
  readonly lead: Lead;
  /** At its terminals, F; may be 0 for resistive and lamp loads. */
  readonly inputCapacitance: number;
  /** In series with the input capacitor, ohm. */
  readonly esr: number;
  /** What its terminals stand; they judge the run and change nothing in it. */
  readonly limits: {
    /** Lowest voltage at which it works, V. */
    readonly minimum: number;
    /** Highest voltage of its window, V. */
    readonly maximum: number;
    /** Longest time (s) allowed above each voltage (V), voltages rising; empty: none above the maximum. */
    readonly withstand: readonly { readonly voltage: number; readonly time: number }[];
    /** True where the withstand curve is an assumption. */
    readonly withstandAssumed: boolean;
  };
  /** Changes of power, current or resistance (in the load's own unit), in order of time (s); a lamp has none. */
  readonly schedule: readonly { readonly time: number; readonly value: number }[];
  /** Across its terminals; null where there is none. */
  readonly clamp: Clamp | null;
  /** How it switches itself off when its voltage is too low; null: it never does. */
  readonly dropOut: {
    /** Terminal voltage below which it goes to sleep, V. */
    readonly voltage: number;
    /** How long below, without a break, s. */
    readonly delay: number;
    /** What it draws while asleep, A. */
    readonly sleepCurrent: number;
    /** Terminal voltage above which it comes back by itself, V. */
    readonly returnVoltage: number;
    /** How long above, without a break, s. */
    readonly returnDelay: number;
    /** `by hand`: it stays asleep to the end of the run. */
    readonly comesBack: "by itself" | "by hand";
  } | null;
}

/** What hangs on the line: what it draws, and what its terminals stand. */
export type Load = LoadBase &
  (
    | {
        readonly kind: "resistive";
        /** ohm. */
        readonly resistance: number;
      }
    | {
        readonly kind: "constant current";
        /** Whatever the voltage above the knee, A. */
        readonly current: number;
        /** Below it the load is the resistor that goes on from there, V. */
        readonly kneeVoltage: number;
      }
    | {
        readonly kind: "constant power";
        /** Whatever the voltage above the knee, W. */
        readonly power: number;
        /** Below it the load is the resistor that goes on from there, V. */
        readonly kneeVoltage: number;
      }
    | ({ readonly kind: "lamp" } & LampValues)
  );

/** Temperatures of the filament in kelvin. */
export interface LampValues {
  /** At the nominal voltage, W. */
  readonly nominalPower: number;
  /** V. */
  readonly nominalVoltage: number;
  /** Of the filament at its nominal voltage. */
  readonly nominalTemperature: number;
  /** Of the filament at rest and of what it radiates to. */
  readonly coldTemperature: number;
  /** Of the filament's resistance over its temperature. */
  readonly exponent: number;
  /** Of the filament, J/K. */
  readonly heatCapacity: number;
}
