import type { Dimension } from "../units/index.ts";
import type { Finding, Severity } from "./types.ts";

/** A level missed or passed by less than this share may go either way. */
const CLOSE = 1e-3;

/** Whether a found value lies so near a level that either side is possible: less than 0.1 % of the level. */
export function isClose(found: number, level: number): boolean {
  return Math.abs(found - level) < CLOSE * Math.abs(level);
}

/**
 * Rating over found; null where nothing was found (or what rounding leaves of nothing), no rating is known, or it leaves no room from the
 * beginning: surroundings as hot as what stands in them may become.
 */
function headroom(rating: number | null, found: number): number | null {
  const ratio = rating === null || !(rating > 0) || !(found > 0) ? null : rating / found;
  return ratio === null || Number.isFinite(ratio) ? ratio : null;
}

/** What orders limits: the headroom; 0 where a limit was passed that left no room, infinite where nothing came near one. */
export const nearness = ({ headroom, severity }: Pick<Finding, "headroom" | "severity">): number =>
  headroom ?? (severity === "beyond" ? 0 : Number.POSITIVE_INFINITY);

interface Limit {
  readonly subject: string;
  readonly quantity: string;
  readonly dimension: Dimension;
  readonly rating: number | null;
  readonly found: number;
  /** What it means to be above the rating. */
  readonly above: Severity;
  /** Temperatures are compared as rises above this one, °C. */
  readonly ambient?: number;
  /** False where both sides of the rating lead to the same verdict. */
  readonly decides?: boolean;
  /** True where passing the rating may set something on fire. */
  readonly burns?: boolean;
  readonly say: (severity: Severity) => string;
}

/** Judges one found value against its rating; at the rating exactly it still counts as kept; what is no number never does. */
export function judgeLimit(limit: Limit): Finding {
  const { subject, quantity, dimension, rating, found, ambient = 0, decides = true, burns = false } = limit;
  const severity = rating === null ? "not rated" : found <= rating ? "ok" : limit.above;
  const compared = rating === null ? null : rating - ambient;
  return {
    subject,
    quantity,
    dimension,
    rating,
    found,
    headroom: headroom(compared, found - ambient),
    severity,
    close: compared !== null && decides && isClose(found - ambient, compared),
    hazard: burns && (severity === "beyond" || severity === "unknown") ? "fire" : null,
    sentence: limit.say(severity),
  };
}
