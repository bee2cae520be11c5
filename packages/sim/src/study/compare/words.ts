import { duration, show, the } from "../../verdict/words.ts";
import type { CompareRow, JudgedRow, Return, ServicePoint } from "./types.ts";

/** A row of the table in words: what a cell says where a person reads it. */
export interface CompareCells {
  /** Of the line. */
  readonly name: string;
  /** How the load came off: `safe`, `safe, hazard` (something else was hurt or is about to be), `too close`, `withstood`, `ENDANGERED`. */
  readonly load: string;
  /** Highest voltage at the load. */
  readonly peak: string;
  /** Time of the load above its maximum. */
  readonly above: string;
  /** How the fuse stands at the end, and when it blew. */
  readonly fuse: string;
  /** How often, and the period. */
  readonly trips: string;
  /** Highest junction temperature, with what is wrong. */
  readonly scr: string;
  /** What is mended, replaced or looked at before the next use. */
  readonly replaced: string;
  /** How the load comes by its supply again. */
  readonly comesBack: string;
  /** In normal service while receiving: voltage and power lost. */
  readonly receive: string;
  /** In normal service while transmitting: voltage and power lost. */
  readonly transmit: string;
  /** What is left to fear. */
  readonly risk: string;
}

/** Headings of the cells, in their order. */
export const COMPARE_HEADINGS: CompareCells = {
  name: "scheme",
  load: "load",
  peak: "peak",
  above: "above limit",
  fuse: "fuse",
  trips: "trips",
  scr: "SCR junction",
  replaced: "repair, replace or check",
  comesBack: "comes back",
  receive: "receiving",
  transmit: "transmitting",
  risk: "what is left to fear",
};

const DASH = "–";

const RETURNS: Readonly<Record<Return, string>> = {
  "never off": "was never off",
  alone: "alone",
  "after a reset": "after a reset",
  "after a repair": "after a repair",
  "not told": "not told",
};

/**
 * What a table says of one line.
 *
 * @example compareCells(row).peak // "14.7 V"
 */
export function compareCells(row: CompareRow): CompareCells {
  if (row.kind === "no verdict") {
    const blank = Object.fromEntries(Object.keys(COMPARE_HEADINGS).map((key) => [key, DASH]));
    return { ...COMPARE_HEADINGS, ...blank, name: row.name, load: "NO VERDICT", risk: row.why };
  }
  const { peak, above, tripping, service } = row;
  return {
    name: row.name,
    load: gradeWord(row),
    peak: show(peak.value, "voltage"),
    above: above.total > 0 ? duration(above.total) : "never",
    fuse: fuseWords(row),
    trips: tripping === null ? DASH : `${tripping.count} times, every ${duration(tripping.period)}`,
    scr: scrWords(row),
    replaced: replacedWords(row),
    comesBack: RETURNS[row.comesBack],
    receive: serviceWords(service?.receive),
    transmit: serviceWords(service?.transmit),
    risk:
      row.risks.length + row.idle.length === 0
        ? "nothing that the run tells of"
        : [...row.risks, ...row.idle].join("; "),
  };
}

/** Whether the load never came above its limit, and that beyond doubt. */
export const isSafe = ({ safe, tooClose }: JudgedRow): boolean => safe && !tooClose;

/**
 * In how many lines the load is safe, and how many of those leave a hazard: a safe load says nothing of what else was hurt.
 *
 * @example safeWords(judged) // "load is safe in 5 of 9, 2 of them with a hazard left"
 */
export function safeWords(judged: readonly JudgedRow[], what = ""): string {
  const safe = judged.filter(isSafe);
  const hurt = safe.filter(({ hazard }) => hazard !== "none").length;
  const left = hurt === 0 ? "" : `, ${hurt} of them with a hazard left`;
  return `load is safe in ${safe.length} of ${judged.length}${what === "" ? "" : ` ${what}`}${left}`;
}

/** Whether the load was safe, and whether that leaves a hazard all the same, as table and pictures say it. */
export function gradeWord({ grade, tooClose, hazard }: JudgedRow): string {
  if (tooClose && grade !== "beyond") return "too close";
  if (grade === "inside") return hazard === "none" ? "safe" : "safe, hazard";
  return grade === "withstood" ? "withstood" : "ENDANGERED";
}

function fuseWords({ fuse: { state, share, after } }: JudgedRow): string {
  if (state === "none") return "no fuse";
  if (state === "intact") return share < 0.005 ? "intact" : `intact, ${show(share, "ratio", 2)} of melting`;
  const when = after === null ? "" : ` ${duration(after, 2)}`;
  return state === "blown" ? `blown${when}` : `ARCING${when}`;
}

function scrWords({ scr }: JudgedRow): string {
  if (scr === null) return DASH;
  const peak = show(scr.peak, "temperature");
  return scr.state === "ok" ? peak : `${peak}, ${scr.state === "unknown" ? "UNKNOWN" : scr.state}`;
}

function replacedWords({ mended, replaced }: JudgedRow): string {
  if (replaced.length + mended.length === 0) return "nothing";
  const source = (step: "repair" | "set back"): string => {
    const named = mended.filter((each) => each.step === step).map(({ source: name }) => the(name));
    if (named.length === 0) return "";
    return step === "repair" ? `repair ${named.join(" and ")}` : `set ${named.join(" and ")} back to its voltage`;
  };
  const say = (step: "replace" | "check"): string[] => {
    const parts = replaced.filter((each) => each.step === step).map(({ part }) => the(part));
    return parts.length === 0 ? [] : [`${step} ${parts.join(" and ")}`];
  };
  return [source("repair"), source("set back"), ...say("replace"), ...say("check")]
    .filter((each) => each !== "")
    .join("; ");
}

function serviceWords(point: ServicePoint | null | undefined): string {
  if (point === null || point === undefined) return DASH;
  return point.kind === "found"
    ? `${show(point.drop, "voltage")}, ${show(point.loss, "power")}`
    : `not possible: ${point.why}`;
}
