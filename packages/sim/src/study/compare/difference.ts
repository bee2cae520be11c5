import { columnName } from "../../model/readings.ts";
import type { Run } from "../../model/result.ts";
import type { Answered } from "../../report/run-scenario.ts";
import { isFaulty, zeroOf } from "../../verdict/when.ts";
import { capital, duration, show, showApart, the } from "../../verdict/words.ts";
import { SAME_VOLTAGE } from "./order.ts";
import type { Comparison, JudgedRow, Return, ServicePoint } from "./types.ts";

/** More clauses than these nobody takes in at once. */
const CLAUSES = 3;
/** A smaller share of the loss nobody cares about. */
const SAME_SHARE = 0.05;

/**
 * The difference between two lines of a comparison in one computed sentence: what decides first, in the order of the comparison's rule.
 *
 * @param comparison both are part of
 * @param better name of the one, usually the one that stands higher
 * @param other name of the other
 * @returns for instance "The relay opens 4.9 ms later than the relay radio stands 20 V; …"; a sentence too where one of them has no verdict
 * @throws RangeError where there is no line of that name
 * @example differenceOf(found, found.rows[0].name, "relay")
 */
export function differenceOf(comparison: Comparison, better: string, other: string): string {
  const rows = [better, other].map((name) => {
    const row = comparison.rows.find((each) => each.name === name);
    if (row === undefined) {
      const known = comparison.rows.map((each) => `"${each.name}"`).join(", ");
      throw new RangeError(`the comparison has no line "${name}"; it has ${known}`);
    }
    return row;
  });
  const [a, b] = rows;
  if (a.kind !== "judged") return `“${a.name}” has no verdict: ${a.why}`;
  if (b.kind !== "judged") return `“${b.name}” has no verdict: ${b.why}`;
  const clauses = [
    loadClause(a, b, comparison.runs),
    closeClause(a, b),
    hazardClause(a, b),
    replacedClause(a, b),
    returnClause(a, b),
    trippingClause(a, b),
    lossClause(a, b),
  ].filter((clause) => clause !== null);
  if (clauses.length === 0)
    return `“${a.name}” and “${b.name}” come to nearly the same: their peaks lie less than ${show(SAME_VOLTAGE, "voltage")} apart, and so do all other differences lie below what matters.`;
  const said = clauses.slice(0, CLAUSES).join("; ");
  return `${capital(said)}.`;
}

type Runs = Comparison["runs"];

const RETURNS: Readonly<Record<Return, string>> = {
  "never off": "was never off",
  alone: "comes back alone",
  "after a reset": "comes back after a reset",
  "after a repair": "comes back after a repair",
  "not told": "does not tell whether it comes back",
};

const named = ({ name }: JudgedRow): string => `“${name}”`;

function loadClause(a: JudgedRow, b: JudgedRow, runs: Runs): string | null {
  const hurt = [a, b].filter(({ grade }) => grade === "beyond");
  if (hurt.length === 1) {
    const [lost] = hurt;
    const spared = lost === a ? b : a;
    const reason = lostClause(lost, runs.get(lost.name));
    const [kept, seen] = showApart(spared.peak.value, lost.peak.value, "voltage");
    const idle = lost.idle.length === 0 ? "" : `, for ${lost.idle.join(" and ")}`;
    return `${reason ?? `with ${named(lost)} ${the(lost.load)} sees ${seen}`}${idle}, where with ${named(spared)} it sees ${kept} at the most`;
  }
  if (Math.abs(a.peak.value - b.peak.value) < SAME_VOLTAGE) return null;
  const [first, second] = showApart(a.peak.value, b.peak.value, "voltage");
  return `with ${named(a)} ${the(a.load)} sees ${first} at the most, with ${named(b)} ${second}`;
}

function closeClause(a: JudgedRow, b: JudgedRow): string | null {
  if (a.tooClose === b.tooClose) return null;
  return `${named(a.tooClose ? a : b)} is too close to call`;
}

/** Why a load was lost: when its protection acted, beside the moment up to which the load stands the voltage. */
function lostClause(row: JudgedRow, answer: Answered | undefined): string | null {
  if (answer === undefined) return null;
  const { run } = answer;
  const lost = lossOf(run, row.load);
  if (lost === null) return null;
  const who = the(row.load);
  const zero = zeroOf(run.scenario);
  const limit =
    lost.allowed > 0
      ? `${who} stands ${show(lost.level, "voltage")} (${duration(lost.allowed)})`
      : `${who} passes its limit of ${show(lost.level, "voltage")}`;
  const action = firstAction(run);
  if (action === null)
    return lost.allowed > 0
      ? `with ${named(row)} nothing ends it, and ${who} stands ${show(lost.level, "voltage")} for ${duration(lost.allowed)} only`
      : `with ${named(row)} nothing ends it, and ${who} passes its limit of ${show(lost.level, "voltage")} ${duration(lost.time - zero)} after the fault`;
  const late = action.time - lost.time;
  if (late > 0) return `${action.what} ${duration(late)} later than ${limit}`;
  return `${action.what} ${duration(-late)} before ${who} is lost, but its voltage stays up for longer than it stands ${show(lost.level, "voltage")}`;
}

interface Action {
  readonly what: string;
  readonly time: number;
}

/** What first took the voltage away. */
export function firstAction(run: Run): Action | null {
  const zero = zeroOf(run.scenario);
  const broken = new Set(run.scenario.sources.filter(isFaulty).map(({ name }) => name));
  const faulty = ({ name }: { readonly name: string }): boolean => broken.size === 0 || broken.has(name);
  const of = (what: string, times: readonly (number | null)[]): Action[] =>
    times.flatMap((time) => (time !== null && time >= zero ? [{ what, time }] : [])).slice(0, 1);
  const opener = run.scenario.seriesSwitch?.kind === "transistor" ? "the series transistor opens" : "the relay opens";
  const actions = [
    ...of("the SCR fires", run.crowbar?.firings ?? []),
    ...of(opener, run.seriesSwitch?.opens ?? []),
    // That of a healthy supply ends nothing that another one does.
    ...run.sources.filter(faulty).flatMap(({ name, shutdowns }) => of(`the own OVP of ${the(name)} acts`, shutdowns)),
    ...of("the clamp fails short", [run.clamp?.failTime ?? null]),
    ...run.fuses.flatMap(({ label, openTime }) => of(`${the(label)} opens`, [openTime])),
  ];
  return actions.sort((x, y) => x.time - y.time)[0] ?? null;
}

interface Loss {
  /** From then on the load had been above the level for longer than it stands, s since the start. */
  readonly time: number;
  readonly level: number;
  readonly allowed: number;
}

/** When a load was lost, from the waveforms; null where they do not tell. */
function lossOf(run: Run, name: string): Loss | null {
  const limits = run.scenario.loads.find((load) => load.name === name)?.limits;
  const values = run.trace.columns.find((column) => column.name === columnName(name, "V"))?.values;
  if (limits === undefined || values === undefined || values.length === 0) return null;
  const levels = limits.withstand.length > 0 ? limits.withstand : [{ voltage: limits.maximum, time: 0 }];
  const losses = levels.flatMap(({ voltage, time: allowed }) => {
    const time = outlasts(run, values, voltage, allowed);
    return time === null ? [] : [{ time, level: voltage, allowed }];
  });
  return losses.sort((x, y) => x.time - y.time)[0] ?? null;
}

function outlasts({ trace, repetition }: Run, values: Float64Array, level: number, allowed: number): number | null {
  const { time } = trace;
  const leaps = [...repetition.leaps];
  let since = values[0] > level ? time[0] : null;
  for (let i = 1; i < values.length; i++) {
    const [before, now] = [values[i - 1], values[i]];
    // What lay between these two rows was not recorded; only where a whole round was above the level, all of it was.
    if (leaps.length > 0 && leaps[0].to <= time[i]) {
      const { from, period } = leaps[0];
      leaps.shift();
      if (since === null || since > from - period) {
        since = now > level ? time[i] : null;
        continue;
      }
    }
    const crossing = (): number => time[i - 1] + ((level - before) / (now - before)) * (time[i] - time[i - 1]);
    if (since === null && now > level) since = crossing();
    if (since === null) continue;
    const until = now > level ? time[i] : crossing();
    if (until - since > allowed) return since + allowed;
    if (now <= level) since = null;
  }
  return null;
}

function hazardClause(a: JudgedRow, b: JudgedRow): string | null {
  if (a.hazard === b.hazard) return null;
  return [a, b]
    .filter(({ hazard }) => hazard !== "none")
    .map((row) => `${named(row)} leaves this: ${row.risks[0]}`)
    .join("; ");
}

const costs = ({ replaced, grade, load }: JudgedRow): string => {
  const worn = replaced.filter(({ step }) => step === "replace").map(({ part }) => the(part));
  const parts = [...(grade === "beyond" ? [the(load)] : []), ...worn];
  return parts.length === 0 ? "nothing" : parts.join(" and ");
};

function replacedClause(a: JudgedRow, b: JudgedRow): string | null {
  const [first, second] = [costs(a), costs(b)];
  return first === second ? null : `${named(a)} costs ${first}, ${named(b)} ${second}`;
}

function returnClause(a: JudgedRow, b: JudgedRow): string | null {
  if (a.comesBack === b.comesBack) return null;
  return `${named(a)} ${RETURNS[a.comesBack]}, ${named(b)} ${RETURNS[b.comesBack]}`;
}

function trippingClause(a: JudgedRow, b: JudgedRow): string | null {
  const [first, second] = [a.tripping?.count ?? 0, b.tripping?.count ?? 0];
  if (first === second) return null;
  const say = (count: number): string => (count === 0 ? "does not trip repeatedly" : `trips ${count} times`);
  return `${named(a)} ${say(first)}, ${named(b)} ${say(second)}`;
}

function lossClause(a: JudgedRow, b: JudgedRow): string | null {
  const [first, second] = [a, b].map(({ service }) => service?.transmit ?? service?.receive ?? null);
  if (!isFound(first) || !isFound(second)) return null;
  const more = second.loss - first.loss;
  if (Math.abs(more) < SAME_SHARE * Math.max(first.loss, second.loss)) return null;
  const when = b.service?.transmit === null ? "in normal service" : "while transmitting";
  return `${named(b)} loses ${show(Math.abs(more), "power")} ${more > 0 ? "more" : "less"} ${when}`;
}

const isFound = (point: ServicePoint | null): point is Extract<ServicePoint, { kind: "found" }> =>
  point?.kind === "found";
