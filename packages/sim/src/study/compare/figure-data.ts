import { columnName } from "../../model/readings.ts";
import type { Run } from "../../model/result.ts";
import type { MultiplesData, MultiplesPanel } from "../../report/figure/multiples-types.ts";
import type { FigureEvent, WaveformData } from "../../report/figure/types.ts";
import { figureData } from "../../report/figure-data.ts";
import { leaptVoltages } from "../../report/leapt-voltages.ts";
import type { Answered } from "../../report/run-scenario.ts";
import type { SchemeWord } from "../../scenario/index.ts";
import { show } from "../../verdict/words.ts";
import { firstAction } from "./difference.ts";
import { inOrder } from "./order.ts";
import type { CompareRow, Comparison, JudgedRow } from "./types.ts";
import { gradeWord, safeWords } from "./words.ts";

const NOTHING: SchemeWord = "nothing";

interface Drawn {
  readonly row: JudgedRow;
  readonly answer: Answered;
}

/** Lines with a verdict and waveforms, in the order asked for. */
function drawn({ rows, runs }: Comparison, names: readonly string[] | undefined): readonly Drawn[] {
  const order = names ?? rows.map(({ name }) => name);
  return order.flatMap((name) => {
    const row = rows.find((each): each is JudgedRow => each.name === name && isJudged(each));
    const answer = runs.get(name);
    return row === undefined || answer === undefined || answer.run.trace.time.length < 2
      ? []
      : [{ row, answer: { ...answer, run: pictured(answer.run) } }];
  });
}

/** As pictures of voltages show it: with the rounds that it leapt over, and without the leaps as events of their own. */
function pictured(run: Run): Run {
  if (run.repetition.leaps.length === 0) return run;
  return { ...run, trace: leaptVoltages(run), events: run.events.filter(({ kind }) => kind !== "repeats itself") };
}

const isJudged = (row: CompareRow): row is JudgedRow => row.kind === "judged";

function toneOf({ grade, tooClose, hazard }: JudgedRow): MultiplesPanel["tone"] {
  if (grade === "beyond") return "endangered";
  return grade === "inside" && !tooClose && hazard === "none" ? "safe" : "withstood";
}

function heading({ title }: Comparison, lines: readonly Drawn[], names: readonly string[] | undefined) {
  const { answer } = lines[0];
  const fault = answer.scenario.sources.flatMap((source) =>
    source.kind === "battery" || source.fault.kind === "none" ? [] : [source.fault.kind],
  );
  const what = fault.length === 0 ? "no fault" : [...new Set(fault)].join(", ");
  const assumed = lines.some(({ answer: { verdict } }) => verdict.assumptions.length > 0);
  return {
    title: title === "" ? "Schemes side by side" : `${title}: schemes side by side`,
    subtitle: `The same fault: ${safeWords(lines.map(({ row }) => row))}.`,
    facts: [what, ...(names === undefined ? ["the best first"] : []), ...(assumed ? ["some values assumed"] : [])].join(
      " · ",
    ),
  };
}

/**
 * What the small figures of a comparison draw: the voltages of every line that has a verdict and waveforms.
 *
 * @param names which lines, in which order; left out: all, the best first
 * @returns null where there is none
 * @example
 * const shown = multiplesData(found);
 * if (shown !== null) multiplesFigure(shown, { document })
 */
export function multiplesData(comparison: Comparison, names?: readonly string[]): MultiplesData | null {
  const lines = drawn(comparison, names);
  if (lines.length === 0) return null;
  const claims = claimsOf(lines);
  return {
    ...heading(comparison, lines, names),
    panels: lines.map(({ row, answer: { run, verdict } }) => {
      const data = figureData(run, verdict);
      const outcome = `${gradeWord(row)}, ${show(row.peak.value, "voltage")}`;
      const claim = claims.indexOf(row);
      return {
        name: row.name,
        outcome,
        tone: toneOf(row),
        data: { ...data, title: row.name },
        ...(claim < 0 ? {} : { claim }),
      };
    }),
  };
}

/** Without these no picture tells what protection is worth here: the line as it stands, without any, the best and the worst. */
function claimsOf(lines: readonly Drawn[]): readonly JudgedRow[] {
  const rows = lines.map(({ row }) => row);
  const best = inOrder(rows).filter(isJudged);
  const wanted = [
    ...rows.filter(({ isBase }) => isBase),
    ...rows.filter(({ name }) => name === NOTHING),
    best[0],
    ...best.slice(-1),
  ];
  return [...new Set(wanted)];
}

/**
 * What the overlay of a comparison draws: the voltage at the load that fares worst, of every line in one picture, with the instant at which
 * each line's protection acted.
 *
 * @param names which lines, in which order; left out: all, the best first
 * @returns null where there is none
 * @example
 * const shown = overlayData(found);
 * if (shown !== null) faultFigure(shown, { document, panels: ["voltage"] })
 */
export function overlayData(comparison: Comparison, names?: readonly string[]): WaveformData | null {
  const lines = drawn(comparison, names);
  if (lines.length === 0) return null;
  const load = [...lines].sort((a, b) => b.row.peak.value - a.row.peak.value)[0].row.load;
  const curves = lines.flatMap(({ row, answer: { run } }) => {
    const values = run.trace.columns.find(({ name }) => name === columnName(load, "V"))?.values;
    return values === undefined ? [] : [{ label: row.name, time: run.trace.time, values }];
  });
  const { run, verdict } = lines[0].answer;
  const end = Math.max(...lines.map(({ answer }) => answer.scenario.endTime));
  const time = together([...curves.map((curve) => curve.time), [end]]);
  return {
    ...figureData(run, verdict),
    ...heading(comparison, lines, names),
    time,
    voltages: curves.map(({ label, time: own, values }) => ({
      label,
      role: "load" as const,
      values: resampled(own, values, time),
    })),
    currents: [],
    states: [],
    events: lines.flatMap(actionOf).sort((a, b) => a.time - b.time),
    restsUntil: null,
  };
}

function actionOf({ row, answer: { run } }: Drawn): readonly FigureEvent[] {
  const action = firstAction(run);
  if (action === null) return [];
  const label = `${row.name}: ${action.what}`;
  return [{ time: action.time, label, important: true, explanation: "" }];
}

/** All instants, each once. */
function together(several: readonly ArrayLike<number>[]): Float64Array {
  const all = new Float64Array(several.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const each of several) {
    all.set(each, at);
    at += each.length;
  }
  all.sort();
  return all.filter((value, k) => k === 0 || value !== all[k - 1]);
}

/** Straight lines between the rows; what came to rest stays as it is. */
function resampled(own: Float64Array, values: Float64Array, time: Float64Array): Float64Array {
  const last = own.length - 1;
  let k = 0;
  // Every run begins with the first of all instants.
  return time.map((t) => {
    while (k < last && own[k + 1] <= t) k += 1;
    if (k === last) return values[last];
    return values[k] + ((t - own[k]) / (own[k + 1] - own[k])) * (values[k + 1] - values[k]);
  });
}
