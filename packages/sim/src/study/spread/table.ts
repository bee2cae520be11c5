import { type Cell, csvTable } from "../../report/csv.ts";
import { pathText } from "../../scenario/keys.ts";
import { valueText } from "../../scenario/spread/index.ts";
import type { Spread } from "../../scenario/spread/types.ts";
import { OUTCOMES } from "../pool/outcome.ts";
import type { Collected } from "./collect.ts";
import type { Rows } from "./rows.ts";
import { Sampling } from "./sampling.ts";
import { studied } from "./studied.ts";

/**
 * Every sample and corner as a table: which it is, its values in the units of the file, how it ended, peak (V), time to the trip (s) and the
 * peak over the load's maximum. Empty cells: none.
 *
 * @returns lines with their ends
 */
export function samplesCsv(collected: Collected): Generator<string> {
  const { spreads, scenario } = studied(collected);
  const columns = spreads.map(({ path, unit }) => `${pathText(path)}${unit === "" ? "" : ` [${unit}]`}`);
  return csvTable(
    ["kind", "index", ...columns, "outcome", "too_close", "peak_V", "trip_s", "peak_share"],
    rowsOf(collected, spreads, scenario.ambient),
  );
}

function* rowsOf(
  { options, samples, corners, telling }: Collected,
  spreads: readonly Spread[],
  ambient: number,
): Generator<Cell[]> {
  const sampling = new Sampling(spreads, options.seed, ambient);
  const kinds: readonly (readonly [string, Rows, (index: number) => readonly number[]])[] = [
    ["sample", samples, (index) => sampling.sample(index)],
    ["corner", corners, (index) => sampling.corner(telling, index)],
  ];
  for (const [kind, rows, make] of kinds) {
    for (const [k, outcome] of rows.outcomes.entries()) {
      const index = rows.first + k;
      const values = make(index).map((value) => Number(valueText(value, "")));
      const figures = [rows.peak[k], rows.trip[k], rows.share[k]].map((each) => (Number.isFinite(each) ? each : null));
      yield [kind, index, ...values, OUTCOMES[outcome], rows.close[k] === 1 ? "yes" : "no", ...figures];
    }
  }
}
