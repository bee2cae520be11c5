import { type Cell, csvTable } from "../../report/csv.ts";
import type { Contribution, TripStudy } from "./types.ts";

/**
 * A study as a table: every share of both edges and of the tolerance, the edges, and the dividers, one row each.
 *
 * @returns lines with their CR LF
 * @example writeFileSync("trip.csv", [...tripCsv(study)].join(""))
 */
export function tripCsv(study: TripStudy): Generator<string> {
  const { bottom, top, band, bandRss, window, windowRss, trip, dividers, landings, nuisances } = study;
  const share =
    (part: string) =>
    (row: Contribution): Cell[] => [
      part,
      row.name,
      row.value,
      null,
      null,
      row.spread ? "varies" : "lasts",
      `${row.mark}: ${row.source}`,
    ];
  const range = (part: string, name: string, { low, high }: { low: number; high: number }): Cell[] => [
    part,
    name,
    null,
    low,
    high,
    "",
    "",
  ];
  const rows: Cell[][] = [
    ...bottom.rows.map(share("lower edge")),
    ...top.rows.map(share("upper edge")),
    range("band", "worst case", band),
    range("band", "root-sum-square", bandRss),
    range("nominal trip point", "worst case", window),
    range("nominal trip point", "root-sum-square", windowRss),
    ...trip.below.map(share("tolerance below")),
    ...trip.above.map(share("tolerance above")),
    ["trip point", "worst case", trip.nominal, trip.low, trip.high, "", ""],
    ["trip point", "root-sum-square", trip.nominal, trip.rss.low, trip.rss.high, "", ""],
    ...landings.map(({ temperature, nominal, low, high }): Cell[] => [
      "trip point",
      `at ${temperature} degC`,
      nominal,
      low,
      high,
      "",
      "",
    ]),
    ...dividers.map(({ series, upper, lower, tolerance }): Cell[] => [
      `divider ${series}`,
      `${upper} ohm over ${lower} ohm`,
      tolerance.nominal,
      tolerance.low,
      tolerance.high,
      "",
      "",
    ]),
    ...nuisances.map(({ name, sensed, volts, remark }): Cell[] => [
      "normal service",
      `${name}: sensed, and left to the lowest trip`,
      volts,
      null,
      sensed,
      "",
      remark,
    ]),
  ];
  return csvTable(["part", "name", "value_V", "low_V", "high_V", "kind", "source"], rows);
}
