import { type CurrentLimit, findPart, formatQuantity, type Supply } from "@railfault/sim";
import type { Path } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";

/** The supply whose limit this page varies: the line's first. */
export interface VariedSupply {
  /** Its place among the sources. */
  readonly index: number;
  readonly supply: Supply;
}

/** The first supply of a line; null where it has none, or its text has errors. */
export function variedSupply({ parsed }: LineNow): VariedSupply | null {
  const sources = parsed.scenario?.sources ?? [];
  for (const [index, source] of sources.entries()) if (source.kind === "supply") return { index, supply: source };
  return null;
}

/** A path to a value of that supply; where the line has none it leads to nothing. */
export const ofSupply =
  (...steps: Path) =>
  (now: LineNow): Path => ["sources", variedSupply(now)?.index ?? 0, ...steps];

/** What every limit style is made from. SI units. */
export interface LimitValues {
  readonly current: number;
  readonly shortCircuitCurrent: number;
  readonly detectionTime: number;
  readonly offTime: number;
  readonly rampTime: number;
}

/** Their keys in a part class, which are those of a limit. */
const TYPICAL = "switch-mode supply 30 A, hiccup";
const FOLDING = "linear supply 20 A, foldback";

/**
 * The values of a supply's own limit; what its style does not have is taken from the part classes that have it, the current
 * into a short circuit in the same proportion to the limit.
 */
export function limitValues({ limit }: Supply): LimitValues {
  const own: Partial<LimitValues> & Pick<CurrentLimit, "style"> = limit;
  const current = own.current ?? typical(TYPICAL, "current");
  const share = typical(FOLDING, "shortCircuitCurrent") / typical(FOLDING, "current");
  return {
    current,
    shortCircuitCurrent: own.shortCircuitCurrent ?? share * current,
    detectionTime: own.detectionTime ?? typical(TYPICAL, "detectionTime"),
    offTime: own.offTime ?? typical(TYPICAL, "offTime"),
    rampTime: own.rampTime ?? typical(TYPICAL, "rampTime"),
  };
}

function typical(partClass: string, key: keyof LimitValues): number {
  const value = findPart("supply", partClass)?.values[`limit.${key}`]?.value;
  if (typeof value !== "number") throw new RangeError(`the part class “${partClass}” has no limit.${key}`);
  return value;
}

/** One round of a hiccup: off, up again, overloaded until it stops, s. */
export function roundOf({ detectionTime, offTime, rampTime }: LimitValues): number {
  return offTime + rampTime + detectionTime;
}

/** How long the fault itself takes to come to its end, s: a voltage that is turned up slowly trips late. */
export function faultTakes({ fault, setVoltage }: Supply): number {
  if (fault.kind === "voltage turned up") return Math.max(0, (fault.endVoltage - setVoltage) / fault.slew);
  return fault.kind === "lost feedback" ? Math.max(0, (fault.ceilingVoltage - setVoltage) / fault.slew) : 0;
}

/** Digits with which values are written into a line. */
const DIGITS = 6;

export const amperes = (value: number): string => formatQuantity(value, "current", { digits: DIGITS });
export const seconds = (value: number): string => formatQuantity(value, "time", { digits: DIGITS });
