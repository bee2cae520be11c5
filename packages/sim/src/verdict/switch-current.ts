import type { Run, SwitchFindings } from "../model/result.ts";
import type { SeriesSwitch } from "../scenario/types.ts";
import { isClose, judgeLimit } from "./finding.ts";
import type { Finding } from "./types.ts";
import { duration, show } from "./words.ts";

/**
 * The rated current of a switch is one that it carries for ever; no class gives one for a short time. Assumed: four times as much for 1 ms
 * in any second. From memory: power transistors are sold with a pulsed current of about four times the continuous one, and vehicle relays
 * carry several times theirs for a tenth of a second.
 */
const SHORT = { times: 4, time: 1e-3 } as const;

const UNKNOWN = "no rating for that is known, so the outcome is unknown. Its data sheet may give a pulse current.";

/** The current of the series switch against its rating; clearly above that, peak and time against what is assumed for a short time. */
export function judgeSwitchCurrent(spec: SeriesSwitch, found: SwitchFindings): readonly Finding[] {
  const rating = spec.ratings.current;
  const peak = found.peakCurrent;
  return rating === null || peak <= rating || isClose(peak, rating)
    ? [lasting(found, rating)]
    : overloaded(found, rating);
}

function lasting({ peakCurrent: peak, overload }: SwitchFindings, rating: number | null): Finding {
  const carried = `The series switch carried ${show(peak, "current")}`;
  // A short peak is kept on either side of this rating.
  const brief = overload !== null && overload.mostNear <= SHORT.time;
  return judgeLimit({
    subject: "series switch",
    quantity: "current",
    dimension: "current",
    rating,
    found: peak,
    above: brief ? "ok" : "unknown",
    decides: !brief,
    say: (severity) => {
      if (rating === null) return `${carried}; no rating is known.`;
      const level = show(rating, "current");
      return severity === "ok" ? `${carried}; its rating is ${level}.` : `${carried}, above its rating of ${level}.`;
    },
  });
}

function overloaded({ peakCurrent: peak, overload }: SwitchFindings, rating: number): readonly Finding[] {
  const subject = "series switch";
  const level = show(rating, "current");
  const time = overload?.most ?? null;
  const current = judgeLimit({
    subject,
    quantity: `current for ${duration(SHORT.time)} (assumed)`,
    dimension: "current",
    rating: SHORT.times * rating,
    found: peak,
    above: "unknown",
    say: (severity) => {
      const carried = `The series switch carried ${show(peak, "current")}, ${(peak / rating).toPrecision(2)} times the ${level} that it carries for ever`;
      return severity === "ok" ? `${carried}; ${assumption()}.` : `${carried}: ${UNKNOWN}`;
    },
  });
  const above = `The series switch carried more than ${level}, which it carries for ever`;
  const span = judgeLimit({
    subject,
    quantity: `time above ${level} (assumed)`,
    dimension: "time",
    rating: time === null ? null : SHORT.time,
    found: time ?? 0,
    above: "unknown",
    say: (severity) => {
      if (time === null) return `${above}, for a time that was not recorded: ${UNKNOWN}`;
      const long = `${above}, for ${duration(time)} within a second`;
      return severity === "ok" ? `${long}; ${assumption()}.` : `${long}: ${UNKNOWN}`;
    },
  });
  return [current, time === null ? { ...span, severity: "unknown" } : span];
}

/** What was taken for a rating, as a note; null where the switch never carried more than its own. */
export function switchAssumption(run: Run): string | null {
  const rating = run.scenario.seriesSwitch?.ratings.current ?? null;
  const peak = run.seriesSwitch?.peakCurrent ?? 0;
  if (rating === null || peak <= rating || isClose(peak, rating)) return null;
  return `The ${show(rating, "current")} of the series switch are what it carries for ever; ${assumption()}.`;
}

const assumption = (): string =>
  `that it stands ${SHORT.times} times as much for ${duration(SHORT.time)} in any second is assumed`;
