import type { Issue } from "../../issue/issue.ts";
import { parseScenario, type ScenarioResult } from "../../scenario/index.ts";
import { MOST_SPREADS, TOLERANCES } from "../../scenario/spread/index.ts";
import { batchesOf, type Crew, type CrewMaker, type DealOptions, deal } from "../pool/deal.ts";
import type { BatchResult } from "../pool/evaluate.ts";
import { optionIssues, shareOf, type TolerancesOptions } from "./options.ts";
import { RowKeeper, type Rows } from "./rows.ts";
import { Sampling } from "./sampling.ts";
import { mostTelling, runsToChoose } from "./telling.ts";

/** Everything that the runs of a study, or of one part of it, gave: what a part hands over, and all that a summary is made from. */
export interface Collected {
  /** The scenario file. */
  readonly text: string;
  /** Its name, for messages. */
  readonly file: string;
  /** What was asked for. */
  readonly options: TolerancesOptions;
  /** The nominal values first, then each value alone at its lower and at its upper end; every part runs all of them. */
  readonly alone: Rows;
  /** Places in the spreads of the values whose corners are run, the most telling first. */
  readonly telling: readonly number[];
  /** Those drawn by this part. */
  readonly samples: Rows;
  /** All combinations of ends of the telling values, as far as this part runs them. */
  readonly corners: Rows;
}

/** What came of collecting. */
export type CollectAnswer =
  | { readonly kind: "refused"; readonly issues: readonly Issue[] }
  | { readonly kind: "collected"; readonly collected: Collected };

/**
 * Runs the samples of a study of tolerances, or of one part of it, and the corners of the most telling values.
 *
 * @param text a scenario file with `tolerances`
 * @param file its name, for messages
 * @param makeCrew who does the runs
 * @returns all problems, or what the runs gave
 * @throws Cancelled once the signal is raised
 */
export async function collect(
  text: string,
  file: string,
  options: TolerancesOptions,
  makeCrew: CrewMaker,
  hooks: DealOptions = {},
): Promise<CollectAnswer> {
  const { parsed, issues } = readStudy(text, file, options);
  if (parsed.scenario === null || issues.length > 0) return { kind: "refused", issues };
  const { spreads, scenario } = parsed;
  const sampling = new Sampling(spreads, options.seed, scenario.ambient);
  const crew = makeCrew({ text, file, varied: sampling.varied() });
  try {
    const aloneCount = 1 + 2 * spreads.length;
    const [drawn, corner] = [options.samples, 2 ** Math.min(options.corners, spreads.length)].map((total) =>
      shareOf(total, options.part),
    );
    const total = aloneCount + runsToChoose(spreads.length, options.corners) + drawn.count + corner.count;
    const stage = staged(crew, spreads.length, total, hooks);
    const alone = await stage(0, aloneCount, (index) => aloneVector(sampling, index));
    const [nominal] = alone.broken;
    if (nominal?.index === 0) return { kind: "refused", issues: [notAtNominal(nominal.message)] };
    // No part knows the samples of the others: what is chosen rests on runs that every part makes.
    const telling = await mostTelling(alone, spreads.length, options.corners, sampling, (count, make) =>
      stage(0, count, make),
    );
    const samples = await stage(drawn.first, drawn.count, (index) => sampling.sample(index));
    const corners = await stage(corner.first, corner.count, (index) => sampling.corner(telling, index));
    return { kind: "collected", collected: { text, file, options, alone, telling, samples, corners } };
  } finally {
    await crew.close();
  }
}

/** The stages of a study share one count of what is done. */
function staged(crew: Crew, width: number, total: number, hooks: DealOptions) {
  let before = 0;
  const begin = Date.now();
  return async (first: number, count: number, make: (index: number) => readonly number[]): Promise<Rows> => {
    const keeper = new RowKeeper(first, count);
    const take = (result: BatchResult) => keeper.take(result);
    const progress: DealOptions["progress"] = ({ done }) => {
      const all = before + done;
      const elapsed = (Date.now() - begin) / 1000;
      hooks.progress?.({ done: all, total, elapsed, left: (elapsed / all) * (total - all) });
    };
    await deal(batchesOf(first, count, make), width, count, crew, take, { signal: hooks.signal ?? null, progress });
    before += count;
    return keeper.rows;
  };
}

/** The vector of one of the runs that change one value at a time. */
function aloneVector(sampling: Sampling, index: number): number[] {
  if (index === 0) return sampling.nominal();
  return sampling.alone((index - 1) >> 1, index % 2 === 1 ? "low" : "high");
}

/** Every problem of the text and of the options; both ends of each spread are tried. */
function readStudy(
  text: string,
  file: string,
  options: TolerancesOptions,
): { parsed: ScenarioResult; issues: readonly Issue[] } {
  const parsed = parseScenario(text, file);
  const errors = parsed.issues.filter(({ severity }) => severity === "error");
  const issues = [...errors, ...optionIssues(options)];
  if (parsed.scenario !== null && parsed.spreads.length === 0) issues.push(noSpreads);
  return { parsed, issues };
}

const notAtNominal = (message: string): Issue => ({
  severity: "error",
  code: "no-nominal-run",
  path: "",
  message: `The scenario cannot be run at its nominal values: ${message}`,
  received: null,
  allowed: null,
  hint: null,
  position: null,
});

const noSpreads: Issue = {
  severity: "error",
  code: "no-spreads",
  path: TOLERANCES,
  message: "No value of this scenario carries a spread, so every sample would be the same.",
  received: null,
  allowed: `up to ${MOST_SPREADS} values`,
  hint: "add a map such as `tolerances:` with a line `  crowbar.trip voltage: ±2 %`",
  position: null,
};
