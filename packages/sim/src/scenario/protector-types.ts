/** An SCR that shorts the line when its filtered sense voltage passes the trip voltage. */
export interface Crowbar {
  /** As the verdict calls it. */
  readonly label: string;
  /** `plain`; `held`: gate kept on until reset; `latched`: crowbar with disconnect. */
  readonly variant: "plain" | "held" | "latched";
  /** Of the filtered sense voltage, V; at or above it the gate is driven. */
  readonly tripVoltage: number;
  /** Of the filter on the sensed voltage, first order, s. */
  readonly senseTimeConstant: number;
  /** Turn-on delay, s: driven this long without a break while blocking, it fires. */
  readonly gateDelay: number;
  /** On-state threshold voltage V_T0, V. */
  readonly thresholdVoltage: number;
  /** On-state slope resistance r_T, ohm. */
  readonly slopeResistance: number;
  /** Of the branch outside the junction, ohm. */
  readonly stubResistance: number;
  /** Of the branch, H. */
  readonly inductance: number;
  /** True where `inductance` is only the default. */
  readonly inductanceAssumed: boolean;
  /** While blocking, ohm. */
  readonly leakResistance: number;
  /** Below it, with the gate not driven, it stops conducting after the turn-off time, A. */
  readonly holdingCurrent: number;
  /** Stands in for the holding current until the current has once reached it, A; 0: no distinct latching current. */
  readonly latchingCurrent: number;
  /** How long the current stays below the holding current before it blocks again, s. */
  readonly turnOffTime: number;
  /** Junction temperature above which the SCR counts as failed short, °C. */
  readonly failTemperature: number;
  /** Junction to case, Foster stages: K/W and s. */
  readonly junctionStages: readonly { readonly resistance: number; readonly timeConstant: number }[];
  /** Thermal resistance with its heat sink, K/W. */
  readonly caseToAmbient: number;
  /** Heat capacity of case and heat sink, J/K. */
  readonly caseHeatCapacity: number;
  /** Of the data sheet; they judge the run and change nothing in it. */
  readonly ratings: {
    /** Half-sine surge peak, A. */
    readonly surgeCurrent: number;
    /** I²t for fusing, A²s. */
    readonly i2t: number;
    /** Limit of the junction, °C. */
    readonly junctionTemperature: number;
    /** Limit of di/dt after a firing, A/s; null where unknown. */
    readonly currentRise: number | null;
    /** Allowed RMS current (A) over each window (s) after a firing. */
    readonly surgeWindows: readonly { readonly duration: number; readonly rms: number }[];
  };
}

/** A clamp diode across the protected side, with its heat and its end. */
export interface Clamp {
  /** As the verdict calls it. */
  readonly label: string;
  /** Above it the clamp conducts, V. */
  readonly breakdownVoltage: number;
  /** Above the breakdown voltage, ohm. */
  readonly slopeResistance: number;
  /** Junction to ambient, K/W. */
  readonly thermalResistance: number;
  /** Of the junction, one stage, s. */
  readonly thermalTimeConstant: number;
  /** Whether it becomes a short for good once it has taken its rated energy. */
  readonly failsShort: boolean;
  /** Once it has failed short, ohm. */
  readonly shortResistance: number;
  /** Of the data sheet: `energy` decides when it fails short, the others judge the run and change nothing in it. */
  readonly ratings: {
    /** Energy that it is able to take in all, J. */
    readonly energy: number;
    /** Peak pulse current, A; null where unknown. */
    readonly peakCurrent: number | null;
    /** Junction temperature limit, °C; null where unknown. */
    readonly temperature: number | null;
  };
}

/** A transistor or relay contact towards the radio side that opens above a voltage. */
export interface SeriesSwitch {
  /** As the verdict calls it. */
  readonly label: string;
  readonly kind: "transistor" | "relay";
  /** While closed, ohm. */
  readonly resistance: number;
  /** The node that it watches. */
  readonly sense: "supply side" | "protected side";
  /** Of the filter between that node and its decision, first order, s. */
  readonly senseTimeConstant: number;
  /** Of the filtered sense voltage, V; at or above it the opening begins. */
  readonly offVoltage: number;
  /** From the decision, which is not called off, to the parting of the contacts, s. */
  readonly openingTime: number;
  /** Voltage at which it conducts on while it clears, V: a relay's arc, a transistor's avalanche. */
  readonly arcVoltage: number;
  /** The arc dies below it, A. */
  readonly extinctionCurrent: number;
  /** How long the current stays below the extinction current before it is open, s. */
  readonly extinctionTime: number;
  /** It closes again once the filtered voltage was below `onVoltage` (V) for `retryTime` (s); null: it stays open until reset. */
  readonly reclose: { readonly onVoltage: number; readonly retryTime: number } | null;
  /** Current it carries for ever (A) and voltage it keeps off once open (V); null where unknown. */
  readonly ratings: { readonly current: number | null; readonly voltage: number | null };
}
