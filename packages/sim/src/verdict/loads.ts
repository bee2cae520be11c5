import type { LoadFindings, Run } from "../model/result.ts";
import type { Load } from "../scenario/types.ts";
import { judgeLimit } from "./finding.ts";
import { withstandEnd } from "./load-outlook.ts";
import { lastLoadVoltage } from "./look.ts";
import type { Finding, Grade, LoadVerdict, Pending, Starved } from "./types.ts";
import { capital, duration, show, showApart, the, times } from "./words.ts";

const ORDER: readonly Grade[] = ["inside", "withstood", "beyond"];

/** The worse of two grades. */
export function worse(a: Grade, b: Grade): Grade {
  return ORDER.indexOf(a) >= ORDER.indexOf(b) ? a : b;
}

/**
 * Grade of one load: inside its window while its voltage was never above its maximum; withstood while every unbroken time above a voltage
 * of its withstand curve is allowed; beyond otherwise, and always without a curve.
 */
function gradeOf(found: LoadFindings, load: Load): Grade {
  if (found.peak.value <= load.limits.maximum) return "inside";
  if (found.withstand.length === 0) return "beyond";
  return found.withstand.every((level) => level.longest <= level.allowed) ? "withstood" : "beyond";
}

/** Smallest allowed over found time of the withstand curve, with its voltage; null where it was never above one. */
function smallestMargin(found: LoadFindings): { readonly level: number; readonly ratio: number } | null {
  let smallest: { readonly level: number; readonly ratio: number } | null = null;
  for (const { level, allowed, longest } of found.withstand) {
    if (longest <= 0) continue;
    const ratio = allowed / longest;
    if (smallest === null || ratio < smallest.ratio) smallest = { level, ratio };
  }
  return smallest;
}

/** The verdict on every load, in the order of the scenario; what is still going on when the run ends goes into its sentence. */
export function judgeLoads(run: Run, pending: readonly Pending[]): readonly LoadVerdict[] {
  return run.loads.map((found) => {
    const load = run.scenario.loads.find((each) => each.name === found.name);
    if (load === undefined) throw new Error(`the run tells of a load "${found.name}" that its scenario does not have`);
    const grade = gradeOf(found, load);
    const hungry = starved(run, found, load);
    const left = pending.some(({ kind, subject }) => kind === "above its maximum" && subject === found.name);
    const beyondAt = left ? (withstandEnd(run, found)?.at ?? null) : null;
    return {
      name: found.name,
      grade,
      safe: found.peak.value <= load.limits.maximum,
      peak: found.peak,
      minimum: load.limits.minimum,
      maximum: load.limits.maximum,
      above: { total: found.aboveMaximum.total, longest: found.aboveMaximum.longest, area: found.aboveMaximum.area },
      smallestMargin: smallestMargin(found),
      starved: hungry,
      limits: limitsOf(found, load, grade),
      sentence: sentence(found, load, grade, hungry, beyondAt),
    };
  });
}

function sentence(
  found: LoadFindings,
  load: Load,
  grade: Grade,
  hungry: Starved | null,
  beyondAt: string | null,
): string {
  const who = capital(the(found.name));
  const { minimum, maximum, withstandAssumed } = load.limits;
  const [peak, most] = showApart(found.peak.value, maximum, "voltage");
  // A radio without supply has left its window too, downwards: harmless, but not inside.
  const window = `inside its window (${show(minimum, "voltage")} to ${most})`;
  const kept = hungry === null ? window : `within its limit of ${most}`;
  if (grade === "inside") return `${who} never saw more than ${peak}: ${kept}.`;
  const { total, longest } = found.aboveMaximum;
  const stretch =
    total > longest * 1.001 ? `${duration(total)} in all, ${duration(longest)} at the longest` : duration(total);
  const start = `${who} stood at ${peak}, above its maximum of ${most} for ${stretch}:`;
  const curve = withstandAssumed ? " (by a withstand curve that is assumed)" : "";
  if (grade === "withstood" && beyondAt !== null)
    return `${start} above its window, so far within what it stands${curve}. It goes on: by estimate it is beyond that ${beyondAt}, unless somebody acts before.`;
  if (grade === "withstood") return `${start} above its window, within what it stands${curve}.`;
  const worst = smallestMargin(found);
  if (worst === null)
    return `${start} beyond what it stands (it has no withstand curve, so any time above the maximum counts).`;
  const level = found.withstand.find((each) => each.level === worst.level);
  const allowed = duration(level?.allowed ?? 0);
  return `${start} beyond what it stands${curve}: ${show(worst.level, "voltage")} is allowed for ${allowed}, it lasted ${duration(level?.longest ?? 0)}.`;
}

function limitsOf(found: LoadFindings, load: Load, grade: Grade): readonly Finding[] {
  const subject = found.name;
  const who = capital(the(subject));
  const [peak, most] = showApart(found.peak.value, load.limits.maximum, "voltage");
  const voltage = judgeLimit({
    subject,
    quantity: "voltage",
    dimension: "voltage",
    rating: load.limits.maximum,
    found: found.peak.value,
    above: grade === "withstood" ? "withstood" : "beyond",
    say: (severity) =>
      severity === "ok" ? `${who} stayed below its maximum.` : `${who} saw ${peak}, its maximum is ${most}.`,
  });
  const curve = found.withstand
    .filter((level) => level.longest > 0)
    .map((level) =>
      judgeLimit({
        subject,
        quantity: `time above ${show(level.level, "voltage")}`,
        dimension: "time",
        rating: level.allowed,
        found: level.longest,
        above: "beyond",
        say: () =>
          `${who} was above ${show(level.level, "voltage")} for ${duration(level.longest)}; ${duration(level.allowed)} is allowed.`,
      }),
    );
  return [voltage, ...curve];
}

function starved(run: Run, found: LoadFindings, load: Load): Starved | null {
  const { total, longest } = found.belowMinimum;
  // Without a lower limit, a ringing below zero is no shortage.
  const none = total <= 0 || load.limits.minimum <= 0;
  if (none && found.drops === 0) return null;
  const last = lastLoadVoltage(run, found.name);
  const low = last === null ? null : last < load.limits.minimum;
  const stillAtEnd = found.sleepingAtEnd ? true : low;
  const comesBack = returns(run, found, load, stillAtEnd);
  const who = capital(the(found.name));
  const inAll = total > longest * 1.001 ? ` in all, ${duration(longest)} at the longest` : "";
  const below =
    total > 0
      ? `${who} was below its minimum of ${show(load.limits.minimum, "voltage")} for ${duration(total)}${inAll}`
      : who;
  const dropped = found.drops === 0 ? "" : `${total > 0 ? " and" : ""} dropped out ${times(found.drops)}`;
  return { total, longest, stillAtEnd, comesBack, sentence: `${below}${dropped}${RETURNS[comesBack]}` };
}

const RETURNS: Readonly<Record<Starved["comesBack"], string>> = {
  "came back": "; it came back by itself.",
  "by itself": "; at the end it is still so, and comes back by itself once the line does.",
  "by hand": "; at the end it is still so, and stays so until somebody goes there.",
  "not told": ".",
};

/** Who has to move for the load to work again: nobody, or somebody at the site. */
function returns(run: Run, found: LoadFindings, load: Load, stillAtEnd: boolean | null): Starved["comesBack"] {
  if (stillAtEnd === null) return "not told";
  if (!stillAtEnd) return "came back";
  if (found.sleepingAtEnd && load.dropOut?.comesBack === "by hand") return "by hand";
  return lineNeedsHand(run, found.name) ? "by hand" : "by itself";
}

/** Whether a supply's own SCR shorts the line for good: one that failed, or still conducts, with no diode between. */
function fedInto(run: Run): boolean {
  return run.ownCrowbars.some(({ source, findings }) => {
    const open = run.scenario.sources.find(({ name }) => name === source)?.diode === null;
    return open && (findings.failedShort || (findings.conductingAtEnd && findings.cycling === null));
  });
}

/** Whether a clamp that failed short lies across this load: at itself, on the line, or at another load that no fuse has cut off. */
function clampedShort(run: Run, load: string): boolean {
  const cutOff = (owner: string): boolean =>
    run.fuses.some(({ state, subject }) => state === "open" && subject.owner === owner);
  return (
    run.clamp?.failedShort === true ||
    run.loadClamps.some(({ load: at, findings }) => findings.failedShort && (at === load || !cutOff(at)))
  );
}

/** Whether the line stays dead until a fuse or a part that failed short is replaced, or a device is reset. */
function lineNeedsHand(run: Run, load: string): boolean {
  const cut = run.fuses.some(
    (fuse) => fuse.state !== "intact" && (fuse.subject.part === "main fuse" || fuse.subject.owner === load),
  );
  const bar = run.crowbar;
  const shorted = bar !== null && (bar.failedShort || (bar.conductingAtEnd && bar.cycling === null));
  const opened =
    run.seriesSwitch !== null && run.seriesSwitch.state !== "closed" && run.scenario.seriesSwitch?.reclose === null;
  const dark = run.sources.every((source) => source.stateAtEnd === "latched off");
  const held = bar !== null && bar.firings.length > 0 && run.scenario.crowbar?.variant !== "plain";
  return cut || shorted || opened || dark || held || fedInto(run) || clampedShort(run, load);
}
