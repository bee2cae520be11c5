import { columnName } from "../model/readings.ts";
import type { Run } from "../model/result.ts";
import { type RunOptions, simulate } from "../model/run.ts";
import type { Scenario } from "../scenario/types.ts";
import { counted } from "../verdict/words.ts";
import { ACCURACY, Comparer, type Comparison } from "./comparison.ts";
import { compareEvents, compareSamples, type SampleNames } from "./events.ts";
import { BadCase, type Fields, fields, list, number } from "./fields.ts";
import {
  compareClamp,
  compareCrowbar,
  compareEnergy,
  compareFuse,
  compareLead,
  compareLoad,
  compareOperatingPoint,
  compareSource,
  compareSwitch,
  fuseName,
} from "./figures.ts";
import { translateCase } from "./translate.ts";

export interface ReferenceOptions {
  readonly accuracy: keyof typeof ACCURACY;
  readonly method?: RunOptions["method"];
}

export interface CaseReport {
  readonly name: string;
  /** Number of figures compared. */
  readonly figures: number;
  /** The worst of them; its deviation is over what is allowed. */
  readonly worst: Comparison | null;
  readonly failures: readonly Comparison[];
  /** Expectations set aside because the file contradicts itself, with the reason. */
  readonly leftOut: readonly string[];
  /** Why the case could not be run at all; null where it ran. */
  readonly error: string | null;
}

export interface ReferenceReport {
  readonly accuracy: keyof typeof ACCURACY;
  readonly cases: readonly CaseReport[];
  /** 0: all agree; 1: something falls short; 2: the file cannot be read. */
  readonly exitStatus: 0 | 1 | 2;
}

/**
 * Runs every case of a reference file (a list of `{"case", "expected"}` in the symbols of the physics) and compares every event time, peak,
 * energy and sample with what is expected. A figure that is expected but not computed counts as a failure.
 * @throws BadCase where the text is no such file.
 */
export function compareFile(content: string, options: ReferenceOptions): ReferenceReport {
  let entries: unknown;
  try {
    entries = JSON.parse(content);
  } catch (error) {
    throw new BadCase(`the file is not JSON: ${(error as SyntaxError).message}`);
  }
  if (!Array.isArray(entries) || entries.length === 0)
    throw new BadCase('the file must hold a list of {"case": …, "expected": …}');
  const cases = entries.map((entry, i) => {
    const both = fields(entry, `[${i}]`);
    return compareCase(fields(both.case, `[${i}].case`), fields(both.expected, `[${i}].expected`), options);
  });
  return {
    accuracy: options.accuracy,
    cases,
    exitStatus: cases.every((report) => report.error === null && report.failures.length === 0) ? 0 : 1,
  };
}

function compareCase(given: Fields, expected: Fields, { accuracy, method }: ReferenceOptions): CaseReport {
  const scenario = translateCase(given);
  const name = scenario.title;
  const samples = (given.sample_times === undefined ? [] : list(given, "sample_times")).map((value) => {
    const sample = fields(value, "sample_times");
    return { event: number(sample, "event"), delay: number(sample, "dt") };
  });
  let run: Run;
  try {
    run = simulate(scenario, { samples, record: false, tolerance: accuracy, ...(method ? { method } : {}) });
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    return { name, figures: 0, worst: null, failures: [], leftOut: [], error: error.message };
  }
  if (run.outcome.failure)
    return { name, figures: 0, worst: null, failures: [], leftOut: [], error: run.outcome.failure.reason };
  const comparer = new Comparer(ACCURACY[accuracy]);
  compareAll(comparer, expected, run, scenario);
  const byDeviation = [...comparer.list].sort((a, b) => b.deviation - a.deviation);
  return {
    name,
    figures: comparer.list.length,
    worst: byDeviation[0] ?? null,
    failures: byDeviation.filter((comparison) => !(comparison.deviation <= 1)),
    leftOut: comparer.leftOut,
    error: null,
  };
}

function compareAll(comparer: Comparer, expected: Fields, run: Run, scenario: Scenario): void {
  const each = (key: string, compare: (entry: Fields, k: number) => void) => {
    if (expected[key] === undefined || expected[key] === null) return;
    list(expected, key).forEach((value, k) => {
      compare(fields(value, `${key}[${k}]`), k);
    });
  };
  const one = (key: string, compare: (entry: Fields) => void) => {
    if (expected[key] !== undefined && expected[key] !== null) compare(fields(expected[key], key));
  };
  if (expected.events !== undefined) compareEvents(comparer, list(expected, "events"), run);
  one("operating_point", (entry) => compareOperatingPoint(comparer, entry, run));
  one("energy", (entry) => compareEnergy(comparer, entry, run));
  each("loads", (entry) =>
    compareLoad(
      comparer,
      entry,
      run.loads.find((load) => load.name === entry.name),
    ),
  );
  each("feeds", (entry) =>
    compareSource(
      comparer,
      entry,
      run.sources.find((source) => source.name === entry.name),
    ),
  );
  each("fuses", (entry) =>
    compareFuse(
      comparer,
      entry,
      run.fuses.find((fuse) => fuseName(fuse.subject) === entry.name),
    ),
  );
  each("leads", (entry, k) =>
    compareLead(
      comparer,
      entry,
      run.leads[k]?.owner === entry.name ? run.leads[k] : run.leads.find((lead) => lead.owner === entry.name),
    ),
  );
  one("scr", (entry) => compareCrowbar(comparer, entry, run.crowbar, run.loads));
  one("clamp", (entry) => compareClamp(comparer, entry, run));
  one("switch", (entry) => compareSwitch(comparer, entry, run));
  if (expected.samples !== undefined) compareSamples(comparer, list(expected, "samples"), run, sampleNames(scenario));
}

function sampleNames(scenario: Scenario): SampleNames {
  return {
    v_line: columnName(scenario.mainFuse ? "supply side" : "protected side", "V"),
    v_guarded: columnName("protected side", "V"),
    v_load: scenario.loads.map(({ name }) => columnName(name, "V")),
    v_feed: scenario.sources.map(({ name }) => columnName(name, "V")),
    i_feed: scenario.sources.map(({ name }) => columnName(name, "A")),
    i_scr: columnName("crowbar", "A"),
    T_j: columnName("crowbar junction", "degC"),
  };
}

/** The report as a table: a case a line with the number of figures compared and the worst deviation, then what fell short. */
export function renderReference({ accuracy, cases }: ReferenceReport): string {
  const { relative, time } = ACCURACY[accuracy];
  const width = Math.max(4, ...cases.map((report) => report.name.length));
  const lines = [
    `Agreement asked for: ${relative * 100} % or ${time * 1e6} µs in times since the preceding event, ${relative * 100} % in everything else.`,
    "",
    `${"case".padEnd(width)}  figures  worst, of what is allowed`,
  ];
  for (const { name, figures, worst, failures, leftOut, error } of cases) {
    const verdict =
      error !== null
        ? `could not be run: ${error.replaceAll("\n", " ")}`
        : worst
          ? `${percent(worst.deviation)}  ${worst.figure}`
          : "nothing to compare";
    lines.push(`${name.padEnd(width)}  ${String(figures).padStart(7)}  ${verdict}`);
    for (const failure of failures.slice(0, 10)) {
      lines.push(
        `  falls short: ${failure.figure}: expected ${clip(failure.expected)}, found ${clip(failure.found)} (${percent(failure.deviation)})`,
      );
    }
    for (const reason of leftOut) lines.push(`  not compared: ${reason}`);
    if (failures.length > 10) lines.push(`  and ${failures.length - 10} more`);
  }
  lines.push("", closing(cases));
  return lines.join("\n");
}

/** A case that could not be run has no figures of its own: it is counted apart. */
function closing(cases: readonly CaseReport[]): string {
  const figures = cases.reduce((sum, report) => sum + report.figures, 0);
  const short = cases.reduce((sum, report) => sum + report.failures.length, 0);
  const failed = cases.filter(({ error }) => error !== null).length;
  const [ofFigures, ofCases] = [counted(figures, "figure"), counted(cases.length, "case")];
  if (short + failed === 0) return `All ${ofFigures} of ${ofCases} agree.`;
  return [
    ...(short === 0 ? [] : [`${short} of ${ofFigures} ${short === 1 ? "falls" : "fall"} short.`]),
    ...(failed === 0 ? [] : [`${failed} of ${ofCases} could not be run.`]),
  ].join(" ");
}

function percent(deviation: number): string {
  return Number.isFinite(deviation) ? `${(100 * deviation).toPrecision(3)} %` : "differs";
}

function clip(text: string): string {
  return text.length > 160 ? `${text.slice(0, 157)}…` : text;
}
