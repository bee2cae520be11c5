import { commonPractice } from "../../scenario/parts/cite.ts";
import type { Cited } from "../../scenario/parts/types.ts";

/** A grade of resistors: how far off when new, and how far they drift. */
export interface ResistorGrade {
  readonly name: string;
  /** Shares of the value. */
  readonly tolerance: number;
  /** Drift for each kelvin away from 25 °C, as a share of the value, with its source. */
  readonly drift: Cited<number>;
}

const PER_MILLION = 1e-6;

function grade(percent: number, ppm: number): ResistorGrade {
  const drift = commonPractice(ppm * PER_MILLION, `${ppm} ppm/K is usual for metal film of ${percent} %`);
  return { name: `${percent} %`, tolerance: percent / 100, drift: drift as Cited<number> };
}

/** From coarse to fine. */
export const RESISTORS: readonly ResistorGrade[] = [
  grade(5, 200),
  grade(2, 100),
  grade(1, 100),
  grade(0.5, 50),
  grade(0.1, 25),
];

/** Names of the grades of resistors, from coarse to fine, for instance `1 %`. */
export const resistorGrades: readonly string[] = RESISTORS.map(({ name }) => name);

/** @throws RangeError for a name that is none of `resistorGrades` */
export function resistorGrade(name: string): ResistorGrade {
  const found = RESISTORS.find((each) => each.name === name);
  if (found === undefined) throw new RangeError(`no grade of resistors is called "${name}"`);
  return found;
}
