import type { HistogramData, TolerancesData } from "../../report/figure/tolerances-types.ts";
import { pathText } from "../../scenario/keys.ts";
import { counted } from "../../verdict/words.ts";
import { isEndangered, OUTCOMES } from "../pool/outcome.ts";
import type { Collected } from "./collect.ts";
import type { Rows } from "./rows.ts";
import { studied } from "./studied.ts";
import type { TolerancesSummary } from "./summary.ts";
import { headline } from "./text.ts";

/** Few samples make a comb of many bins. */
const binsFor = (count: number): number => Math.min(40, Math.max(8, Math.round(1.5 * Math.sqrt(count))));

/**
 * What the figure of a study of tolerances draws.
 *
 * @param collected of the whole study
 * @param summary made of it
 */
export function tolerancesData(collected: Collected, summary: TolerancesSummary): TolerancesData {
  const { samples } = collected;
  const { scenario, spreads } = studied(collected);
  const limits = scenario.loads.map(({ limits: { maximum } }) => maximum);
  // A limit that varies itself, or differs from load to load, is no one place.
  const fixed = spreads.every(({ path }) => !pathText(path).includes("limits"));
  const limit = fixed && new Set(limits).size === 1 ? limits[0] : null;
  const [factor, unit] = timeScale(summary.trip);
  const never = samples.trip.reduce((sum, each) => sum + (Number.isFinite(each) ? 0 : 1), 0);
  const panels = [
    histogram(samples, samples.peak, 1, "Peak at the load, V", "", [
      ...(limit === null ? [] : [{ label: "its maximum", value: limit, role: "limit" as const }]),
      ...nominalLine(summary.nominal.peak),
    ]),
    histogram(
      samples,
      samples.trip,
      factor,
      `Time from the fault to the trip, ${unit}`,
      never === 0 ? "" : `${counted(never, "sample")} never tripped`,
      nominalLine(summary.nominal.trip === null ? null : summary.nominal.trip * factor),
    ),
  ];
  return {
    title: `How sure is it: ${summary.title}`,
    subtitle: headline(summary),
    facts: `${summary.samples} samples of ${spreads.length} values that vary; random numbers begin at seed ${summary.seed}, the same every time`,
    panels: panels.filter((panel) => panel !== null),
    influences: summary.influences.flatMap(({ label, withPeak }) =>
      withPeak === null ? [] : [{ label, value: withPeak }],
    ),
    noise: summary.noise,
  };
}

const nominalLine = (value: number | null): HistogramData["lines"] =>
  value === null ? [] : [{ label: "nominal", value, role: "nominal" }];

function timeScale(trip: TolerancesSummary["trip"]): readonly [number, string] {
  if (trip === null || trip.most < 1e-3) return [1e6, "µs"];
  return trip.most < 1 ? [1e3, "ms"] : [1, "s"];
}

function histogram(
  { outcomes }: Rows,
  figure: Float64Array,
  factor: number,
  title: string,
  note: string,
  lines: HistogramData["lines"],
): HistogramData | null {
  const known = figure.filter(Number.isFinite);
  if (known.length === 0) return null;
  const [least, most] = known.reduce(([a, b], each) => [Math.min(a, each), Math.max(b, each)], [Infinity, -Infinity]);
  // What never varies stands in one bar of some width.
  const span = (most - least || Math.abs(most) * 1e-3 || 1e-3) * factor;
  const from = least * factor;
  const count = binsFor(known.length);
  const bins = Array.from({ length: count }, (_, k) => ({
    from: from + (span * k) / count,
    to: from + (span * (k + 1)) / count,
    safe: 0,
    endangered: 0,
  }));
  for (const [k, value] of figure.entries()) {
    if (!Number.isFinite(value)) continue;
    const bin = bins[Math.min(count - 1, Math.floor(((value * factor - from) / span) * count))];
    if (isEndangered(OUTCOMES[outcomes[k]])) bin.endangered += 1;
    else bin.safe += 1;
  }
  return { title, bins, lines, note };
}
