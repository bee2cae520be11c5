import type { Lead } from "./lead-types.ts";
import type { Crowbar } from "./protector-types.ts";

/** What feeds the line. */
export type Source = Supply | Battery | Panel;

interface SourceBase {
  /** As the verdict calls it; unique among the sources. */
  readonly name: string;
  /** From its terminals to the supply side. */
  readonly lead: Lead;
  /** A diode in the source's lead (V, ohm): current only towards the line; null where there is none. */
  readonly diode: { readonly forwardVoltage: number; readonly resistance: number } | null;
}

/** A regulated supply or charger with its limit, its protections and its fault. */
export interface Supply extends SourceBase {
  readonly kind: "supply";
  /** Output voltage while healthy, V. */
  readonly setVoltage: number;
  /** Of the regulated output: fall of its voltage over its current, ohm. */
  readonly sourceResistance: number;
  /** Lag of the regulator, first order, s. */
  readonly responseTime: number;
  /** Capacitor at the terminals, F. */
  readonly outputCapacitance: number;
  /** In series with that capacitor, ohm. */
  readonly esr: number;
  /** Across the terminals, ohm. */
  readonly bleederResistance: number;
  /** What it does when more current is demanded than it gives. */
  readonly limit: CurrentLimit;
  /** What stands before the regulator; null: the regulator is never short of voltage. */
  readonly reservoir: Reservoir | null;
  /** The supply's own over-voltage shutdown: above `voltage` (V) for `delay` (s) it stops; null where there is none. */
  readonly shutdown: {
    readonly voltage: number;
    readonly delay: number;
    /** Whether it still sees its voltage when the feedback is lost. */
    readonly worksOnLostFeedback: boolean;
  } | null;
  /** The supply's own SCR across its terminals; null where there is none. */
  readonly ownCrowbar: Crowbar | null;
  /** When it is switched on, and the rise of its voltage (0: at once), s. Used only with `start: "dead"`, else both 0. */
  readonly switchOn: { readonly time: number; readonly rampTime: number };
  /** From the instant of the fault on. */
  readonly fault: SupplyFault;
}

/** What a supply does when more current is demanded than it gives; currents in A, times in s. */
export type CurrentLimit =
  | { readonly style: "none" }
  | {
      readonly style: "constant current";
      /** Largest current. */
      readonly current: number;
    }
  | {
      readonly style: "foldback";
      /** Largest current at the set voltage. */
      readonly current: number;
      /** Largest current into a short, to which it folds back as the voltage falls. */
      readonly shortCircuitCurrent: number;
    }
  | {
      readonly style: "hiccup";
      /** Largest current, and the demand that counts as overload. */
      readonly current: number;
      /** Overload for so long without a break stops it. */
      readonly detectionTime: number;
      /** Pause before it restarts. */
      readonly offTime: number;
      /** Rise of its voltage at the restart; 0: at once. */
      readonly rampTime: number;
    }
  | {
      readonly style: "latch off";
      /** Largest current, and the demand that counts as overload. */
      readonly current: number;
      /** Overload for so long without a break stops it for good. */
      readonly detectionTime: number;
    };

/** What stands before the pass element of a linear supply. No current flows back into transformer and rectifier. */
export interface Reservoir {
  /** Open-circuit voltage behind `rawResistance`, V; the peak where `ripple` is true. */
  readonly rawVoltage: number;
  /** Of transformer and rectifier, ohm. */
  readonly rawResistance: number;
  /** Of the reservoir capacitor, F. */
  readonly capacitance: number;
  /** Least resistance of the working pass element, which bounds the current when the reservoir runs low, ohm. */
  readonly dropOutResistance: number;
  /** Rectified mains, |sin 2πft| from a zero of the sine at t = 0, instead of a smooth raw voltage. */
  readonly ripple: boolean;
  /** Hz; used only with `ripple`. */
  readonly mainsFrequency: number;
}

/** What goes wrong in a supply; voltages in V, slew in V/s, resistance in ohm. */
export type SupplyFault =
  | { readonly kind: "none" }
  | {
      readonly kind: "voltage turned up";
      /** To which somebody turns it; the limit goes on working. */
      readonly endVoltage: number;
      /** How fast the set voltage moves there. */
      readonly slew: number;
    }
  | {
      readonly kind: "lost feedback";
      /** The most that the supply is able to give. */
      readonly ceilingVoltage: number;
      /** How fast its voltage runs away. */
      readonly slew: number;
    }
  | {
      readonly kind: "shorted pass transistor";
      /** Between reservoir and terminals; the limit is gone. */
      readonly passResistance: number;
    };

/** A battery: an EMF that moves with its charge, behind a resistance. */
export interface Battery extends SourceBase {
  readonly kind: "battery";
  /** EMF at t = 0, V. */
  readonly emf: number;
  /** In series with the EMF, ohm, whatever the charge. */
  readonly internalResistance: number;
  /** Charge from empty to full, ampere-hours. */
  readonly capacityAh: number;
  /** State of charge at t = 0: 0 empty, 1 full. */
  readonly initialCharge: number;
  /** EMF change per full charge, V; used where `emfTable` is null. */
  readonly emfPerCharge: number;
  /** EMF over state of charge (0…1 and beyond), both rising; null: a straight line of `emfPerCharge`. */
  readonly emfTable: readonly { readonly charge: number; readonly emf: number }[] | null;
}

/** A solar panel behind a controller that may fail shorted. */
export interface Panel extends SourceBase {
  readonly kind: "panel";
  /** A. */
  readonly shortCircuitCurrent: number;
  /** Voltage at which it gives no more current, V. */
  readonly openCircuitVoltage: number;
  /** V_a of the exponential: how sharply the current falls towards the open-circuit voltage, V. */
  readonly kneeVoltage: number;
  /** Capacitor behind panel and controller, F. */
  readonly outputCapacitance: number;
  /** In series with that capacitor, ohm. */
  readonly esr: number;
  /** `none`: it gives nothing; `shorted controller`: it gives nothing until the fault, then drives the line without any control. */
  readonly fault: { readonly kind: "none" | "shorted controller" };
}
