/** A go-and-return pair; `resistance` counts both conductors and all contacts. */
export interface Lead {
  /** Of the loop, H. */
  readonly inductance: number;
  /** At the ambient temperature of the run, ohm; warm copper does not raise it. What `fuse`, `contact` and a diode have comes on top. */
  readonly resistance: number;
  /** Copper cross-section of one conductor, m². */
  readonly copperArea: number;
  /** Of the wire with its insulation, s. */
  readonly thermalTimeConstant: number;
  /** Insulation limits, °C: continuous, and for the seconds of a short circuit. */
  readonly insulation: { readonly continuous: number; readonly shortCircuit: number };
  /** In-line fuse; null where there is none. */
  readonly fuse: Fuse | null;
  /** Null where nothing in the lead opens or closes. */
  readonly contact: Contact | null;
}

/** A plug, terminal or hand switch in a lead, worked at given times. */
export interface Contact {
  /** While closed, in addition to that of the lead, ohm. */
  readonly resistance: number;
  /** Of the arc while it opens, against the current's direction at its striking, V. */
  readonly arcVoltage: number;
  /** The arc is out, and the contact open, once the current in the arc's direction falls below it, A. */
  readonly extinctionCurrent: number;
  /** State at the start of the run. */
  readonly initially: "closed" | "open";
  /** What is done to it, in order of time: when, in s from the start of the run, and what. */
  readonly operations: readonly { readonly time: number; readonly action: "open" | "close" }[];
}

/** A fuse: how its element warms and melts, and how its arc ends. */
export interface Fuse {
  /** What the user calls it, for instance `blade fuse 20 A`. */
  readonly label: string;
  /** A; null where its thermal stages are given and no rating is. */
  readonly ratedCurrent: number | null;
  /** Largest voltage that it is able to keep off once open, V. */
  readonly ratedVoltage: number;
  /** Largest current it is able to break, A; null where unknown. */
  readonly breakingCapacity: number | null;
  /** Nominal melting I²t of the data sheet, A²s; null where unknown. */
  readonly nominalMeltingI2t: number | null;
  /** Without current, ohm. */
  readonly coldResistance: number;
  /** Resistance at melting over cold resistance, ≥ 1. */
  readonly resistanceRatio: number;
  /** Current that just never melts it, at 25 °C, A. */
  readonly minimumMeltingCurrent: number;
  /** Thermal stages, one to three: share of the heating (they sum to 1) and time constant, s. */
  readonly stages: readonly { readonly weight: number; readonly timeConstant: number }[];
  /** Of the arc after melting, against the current's direction at its striking, V. */
  readonly arcVoltage: number;
  /** The arc can no longer be held once the current in its direction falls below it, A. */
  readonly extinctionCurrent: number;
  /** How long the current stays below the extinction current before it is open, s; an in-line fuse takes no notice of it. */
  readonly extinctionTime: number;
  /** Of its element, °C, by which other surroundings than 25 °C re-rate it; null: no re-rating. */
  readonly meltingTemperature: number | null;
  /** `warm`: as normal service has left it; `cold`: at ambient temperature. */
  readonly start: "warm" | "cold";
}
