/**
 * A complete scenario: one 12 V line, its fault and its limits, as the model takes it.
 * SI units throughout (V, A, ohm, H, F, s, W, J, A²s); temperatures in °C unless a comment says kelvin.
 * Every default is already filled in: what a part lacks is `null`, never `undefined`.
 */
export interface Scenario {
  readonly title: string;
  /** Ambient temperature, °C. */
  readonly ambient: number;
  /** Instant of the fault, common to all sources, s. */
  readonly faultTime: number;
  /** End of the run, s. */
  readonly endTime: number;
  /** `operating`: from the healthy operating point; `dead`: everything at zero except batteries. */
  readonly start: "operating" | "dead";
  readonly nodes: {
    /** Used only with a main fuse. */
    readonly supplySide: NodeCapacitor;
    readonly protectedSide: NodeCapacitor;
    /** Used only with a series switch. */
    readonly radioSide: NodeCapacitor;
  };
  readonly sources: readonly Source[];
  readonly loads: readonly Load[];
  readonly mainFuse: Fuse | null;
  readonly crowbar: Crowbar | null;
  readonly clamp: Clamp | null;
  readonly seriesSwitch: SeriesSwitch | null;
}

/** A capacitor with its series resistance, from a node to ground. */
export interface NodeCapacitor {
  readonly capacitance: number;
  readonly resistance: number;
}

/** A go-and-return pair; `resistance` counts both conductors and all contacts. */
export interface Lead {
  readonly inductance: number;
  readonly resistance: number;
  /** Copper cross-section of one conductor, m². */
  readonly copperArea: number;
  readonly thermalTimeConstant: number;
  /** Insulation limits, °C: continuous, and for the seconds of a short circuit. */
  readonly insulation: { readonly continuous: number; readonly shortCircuit: number };
  readonly fuse: Fuse | null;
  readonly contact: Contact | null;
}

/** A plug, terminal or hand switch in a lead, worked at given times. */
export interface Contact {
  readonly resistance: number;
  readonly arcVoltage: number;
  readonly extinctionCurrent: number;
  readonly initially: "closed" | "open";
  /** In order of time. */
  readonly operations: readonly { readonly time: number; readonly action: "open" | "close" }[];
}

/** A fuse: how its element warms and melts, and how its arc ends. */
export interface Fuse {
  /** What the user calls it, for instance `blade fuse 20 A`. */
  readonly label: string;
  readonly ratedCurrent: number | null;
  readonly ratedVoltage: number;
  /** Largest current it is able to break, A; null where unknown. */
  readonly breakingCapacity: number | null;
  /** Nominal melting I²t of the data sheet, A²s; null where unknown. */
  readonly nominalMeltingI2t: number | null;
  readonly coldResistance: number;
  /** Resistance at melting over cold resistance, ≥ 1. */
  readonly resistanceRatio: number;
  /** Current that just never melts it, at 25 °C. */
  readonly minimumMeltingCurrent: number;
  /** Thermal stages; the weights sum to 1. */
  readonly stages: readonly { readonly weight: number; readonly timeConstant: number }[];
  readonly arcVoltage: number;
  readonly extinctionCurrent: number;
  /** How long |i| stays below the extinction current before it is open (main fuse only). */
  readonly extinctionTime: number;
  /** °C, for re-rating with ambient; null: no re-rating. */
  readonly meltingTemperature: number | null;
  readonly start: "warm" | "cold";
}

/** What feeds the line. */
export type Source = Supply | Battery | Panel;

interface SourceBase {
  readonly name: string;
  readonly lead: Lead;
  /** A diode in the source's lead: current only towards the line; null where there is none. */
  readonly diode: { readonly forwardVoltage: number; readonly resistance: number } | null;
}

/** A regulated supply or charger with its limit, its protections and its fault. */
export interface Supply extends SourceBase {
  readonly kind: "supply";
  readonly setVoltage: number;
  readonly sourceResistance: number;
  readonly responseTime: number;
  readonly outputCapacitance: number;
  readonly esr: number;
  readonly bleederResistance: number;
  readonly limit: CurrentLimit;
  readonly reservoir: Reservoir | null;
  /** The supply's own over-voltage shutdown. */
  readonly shutdown: { readonly voltage: number; readonly delay: number; readonly worksOnLostFeedback: boolean } | null;
  /** The supply's own SCR across its terminals. */
  readonly ownCrowbar: Crowbar | null;
  /** Used only with `start: "dead"`. */
  readonly switchOn: { readonly time: number; readonly rampTime: number };
  readonly fault: SupplyFault;
}

/** What a supply does at its limit; currents in A, times in s. */
export type CurrentLimit =
  | { readonly style: "none" }
  | { readonly style: "constant current"; readonly current: number }
  | { readonly style: "foldback"; readonly current: number; readonly shortCircuitCurrent: number }
  | {
      readonly style: "hiccup";
      readonly current: number;
      readonly detectionTime: number;
      readonly offTime: number;
      readonly rampTime: number;
    }
  | { readonly style: "latch off"; readonly current: number; readonly detectionTime: number };

/** What stands before the pass element of a linear supply. */
export interface Reservoir {
  /** Open-circuit voltage behind `rawResistance`; the peak where `ripple` is true. */
  readonly rawVoltage: number;
  readonly rawResistance: number;
  readonly capacitance: number;
  readonly dropOutResistance: number;
  readonly ripple: boolean;
  readonly mainsFrequency: number;
}

/** What goes wrong in a supply; voltages in V, slew in V/s, resistance in ohm. */
export type SupplyFault =
  | { readonly kind: "none" }
  | { readonly kind: "voltage turned up"; readonly endVoltage: number; readonly slew: number }
  | { readonly kind: "lost feedback"; readonly ceilingVoltage: number; readonly slew: number }
  | { readonly kind: "shorted pass transistor"; readonly passResistance: number };

/** A battery: an EMF that moves with its charge, behind a resistance. */
export interface Battery extends SourceBase {
  readonly kind: "battery";
  /** EMF at t = 0, V. */
  readonly emf: number;
  readonly internalResistance: number;
  /** Ampere-hours. */
  readonly capacityAh: number;
  readonly initialCharge: number;
  /** EMF change per full charge, V; used where `emfTable` is null. */
  readonly emfPerCharge: number;
  /** EMF over state of charge (0…1 and beyond), both rising; null: a straight line of `emfPerCharge`. */
  readonly emfTable: readonly { readonly charge: number; readonly emf: number }[] | null;
}

/** A solar panel behind a controller that may fail shorted. */
export interface Panel extends SourceBase {
  readonly kind: "panel";
  readonly shortCircuitCurrent: number;
  readonly openCircuitVoltage: number;
  /** V_a of the exponential, V. */
  readonly kneeVoltage: number;
  readonly outputCapacitance: number;
  readonly esr: number;
  readonly fault: { readonly kind: "none" | "shorted controller" };
}

/** An SCR that shorts the line when its filtered sense voltage passes the trip voltage. */
export interface Crowbar {
  readonly label: string;
  /** `plain`; `held`: gate kept on until reset; `latched`: crowbar with disconnect. */
  readonly variant: "plain" | "held" | "latched";
  readonly tripVoltage: number;
  readonly senseTimeConstant: number;
  /** Turn-on delay: driven this long without a break while blocking, it fires. */
  readonly gateDelay: number;
  readonly thresholdVoltage: number;
  readonly slopeResistance: number;
  /** Resistance in the branch outside the junction. */
  readonly stubResistance: number;
  readonly inductance: number;
  /** True where `inductance` is only the default. */
  readonly inductanceAssumed: boolean;
  readonly leakResistance: number;
  readonly holdingCurrent: number;
  /** 0: no distinct latching current. */
  readonly latchingCurrent: number;
  readonly turnOffTime: number;
  /** Above it the SCR counts as failed short, °C. */
  readonly failTemperature: number;
  /** Junction to case, Foster stages. */
  readonly junctionStages: readonly { readonly resistance: number; readonly timeConstant: number }[];
  readonly caseToAmbient: number;
  /** Heat capacity of case and heat sink, J/K. */
  readonly caseHeatCapacity: number;
  readonly ratings: {
    /** Half-sine surge peak, A. */
    readonly surgeCurrent: number;
    readonly i2t: number;
    readonly junctionTemperature: number;
    /** A/s; null where unknown. */
    readonly currentRise: number | null;
    /** Allowed RMS over each window after a firing, A. */
    readonly surgeWindows: readonly { readonly duration: number; readonly rms: number }[];
  };
}

/** A clamp diode across the protected side, with its heat and its end. */
export interface Clamp {
  readonly label: string;
  readonly breakdownVoltage: number;
  readonly slopeResistance: number;
  readonly thermalResistance: number;
  readonly thermalTimeConstant: number;
  readonly failsShort: boolean;
  readonly shortResistance: number;
  readonly ratings: {
    readonly energy: number;
    readonly peakCurrent: number | null;
    /** Junction temperature limit, °C; null where unknown. */
    readonly temperature: number | null;
  };
}

/** A transistor or relay contact towards the radio side that opens above a voltage. */
export interface SeriesSwitch {
  readonly label: string;
  readonly kind: "transistor" | "relay";
  readonly resistance: number;
  readonly sense: "supply side" | "protected side";
  readonly senseTimeConstant: number;
  readonly offVoltage: number;
  readonly openingTime: number;
  readonly arcVoltage: number;
  readonly extinctionCurrent: number;
  readonly extinctionTime: number;
  /** Null: it stays open until reset. */
  readonly reclose: { readonly onVoltage: number; readonly retryTime: number } | null;
  readonly ratings: { readonly current: number | null; readonly voltage: number | null };
}

interface LoadBase {
  readonly name: string;
  readonly lead: Lead;
  /** May be 0 for resistive and lamp loads. */
  readonly inputCapacitance: number;
  readonly esr: number;
  readonly limits: {
    readonly minimum: number;
    readonly maximum: number;
    /** Longest time allowed above each voltage, voltages rising; empty: strict. */
    readonly withstand: readonly { readonly voltage: number; readonly time: number }[];
    /** True where the withstand curve is an assumption. */
    readonly withstandAssumed: boolean;
  };
  /** Changes of power, current or resistance (in the load's own unit), in order of time. */
  readonly schedule: readonly { readonly time: number; readonly value: number }[];
  readonly clamp: Clamp | null;
  readonly dropOut: {
    readonly voltage: number;
    readonly delay: number;
    readonly sleepCurrent: number;
    readonly returnVoltage: number;
    readonly returnDelay: number;
    readonly comesBack: "by itself" | "by hand";
  } | null;
}

/** What hangs on the line: what it draws, and what its terminals stand. */
export type Load = LoadBase &
  (
    | { readonly kind: "resistive"; readonly resistance: number }
    | { readonly kind: "constant current"; readonly current: number; readonly kneeVoltage: number }
    | { readonly kind: "constant power"; readonly power: number; readonly kneeVoltage: number }
    | ({ readonly kind: "lamp" } & LampValues)
  );

/** Temperatures of the filament in kelvin. */
export interface LampValues {
  readonly nominalPower: number;
  readonly nominalVoltage: number;
  readonly nominalTemperature: number;
  readonly coldTemperature: number;
  readonly exponent: number;
  readonly heatCapacity: number;
}
