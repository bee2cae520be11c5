import { judgeLimit } from "../../verdict/finding.ts";
import type { Finding } from "../../verdict/types.ts";
import { counted } from "../../verdict/words.ts";
import { type Curve, outsideTime } from "./curve.ts";
import { extremeText, measuredText } from "./measured.ts";
import { onItsWay } from "./on-its-way.ts";
import type { Extreme, FlatTop, Resolution } from "./types.ts";

/** Of an upper limit, what a line in service comes up to at least. */
const NEVER_UP = 0.5;

/** What was found of a channel that is held against its upper limit. */
interface Found {
  readonly name: string;
  readonly curve: Curve;
  readonly outOfRange: number;
  readonly flatTop: FlatTop | null;
  readonly highest: Extreme;
  /** Whether it may have been higher by no one knows how much. */
  readonly open: boolean;
  /** The lower limit, V; null: none was given. */
  readonly low: number | null;
  readonly resolution: Resolution;
}

/** Held against a limit by the rule for simulated values; too close is also what the capture cannot tell from the limit. */
export function heldAgainst(limit: number, found: Found): Finding {
  return held(limit, found, outOfRange(found) ?? neverUp(found, limit) ?? doubtOf(found, limit));
}

function outOfRange({ curve, outOfRange: samples }: Found): string | null {
  if (outsideTime(curve, 1) === 0) return null;
  return `the instrument was out of its range in ${counted(samples, "sample")}, and how far is not known`;
}

/** Why the highest value that was recorded may not have been the highest; null where nothing says so. */
function doubtOf({ curve, flatTop, highest, resolution, outOfRange }: Found, limit: number): string | null {
  if (flatTop?.clipped === true)
    return `${counted(flatTop.samples, "sample")} one after the other are equal where noise would move them: the instrument's range ended there`;
  if (flatTop?.abrupt === true)
    return `it breaks off at its highest value, ${counted(flatTop.samples, "sample")} one after the other, as where the instrument's range ended or a line jumps to a level and is held`;
  if (highest.alone) return "a spike was seen in one sample only";
  if (outOfRange === 0 && !curve.values.some((value) => value < highest.value))
    return "all its values are equal, as where nothing was measured or the instrument's range ended";
  const cutOff = onItsWay(curve, highest, resolution);
  return cutOff !== null && cutOff.reaches >= limit ? cutOff.where : null;
}

/**
 * A line that never comes up to its lower limit, where none is given to half of its upper one, is no line in service: a probe's factor or sign, or another thing, is likelier.
 */
function neverUp({ highest: { value, plus, alone }, low }: Found, limit: number): string | null {
  const least = low ?? NEVER_UP * limit;
  if (alone || value + plus >= least) return null;
  const level = measuredText({ value: least, plusMinus: 0 }, "voltage");
  const name = low === null ? `half of it, ${level}` : `the lower limit of ${level}`;
  return `it never comes up to ${name}, as where a probe's factor is not applied, a channel is inverted or lets only what changes through (AC coupling), or another thing was recorded`;
}

function held(limit: number, { name, highest, open }: Found, doubt: string | null): Finding {
  const { value, minus, plus } = highest;
  const level = measuredText({ value: limit, plusMinus: 0 }, "voltage");
  const peak = extremeText(highest, "voltage", "highest", { open, truth: true });
  const finding = judgeLimit({
    subject: name,
    quantity: "peak voltage",
    dimension: "voltage",
    rating: limit,
    found: value,
    above: "beyond",
    say: (severity) =>
      `The peak voltage of "${name}", ${peak}, ${severity === "ok" ? "stays within" : "passes"} the limit of ${level}.`,
  });
  // What was seen to pass did pass, however much higher it went.
  const surelyBeyond = finding.severity === "beyond" && !finding.close && value - limit > minus;
  if (surelyBeyond) return finding;
  if (doubt !== null) {
    const sentence = `Whether the peak voltage of "${name}" stays within the limit of ${level} is not known: ${doubt}. That is too close to call.`;
    return { ...finding, severity: "unknown", headroom: null, close: true, sentence };
  }
  if (finding.severity !== "beyond" && !finding.close && limit - value > plus) return finding;
  const sentence = `The peak voltage of "${name}", ${peak}, may be above the limit of ${level} or within it. That is too close to call.`;
  return { ...finding, close: true, sentence };
}
