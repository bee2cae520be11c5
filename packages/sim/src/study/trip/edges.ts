import { commonPractice } from "../../scenario/parts/cite.ts";
import { formatQuantity } from "../../units/index.ts";
import type { TripLine } from "./line.ts";
import type { Contribution, Edge, TripSettings } from "./types.ts";
import { degrees } from "./words.ts";

type Source = Pick<Contribution, "source" | "mark">;

const LIMIT: Source = { source: "the line's file or its part class", mark: "published" };
const GIVEN: Source = { source: "given", mark: "published" };
const SIMULATED: Source = { source: "full simulation of this line", mark: "computed" };

/** Temperature coefficient of copper's resistance at 20 °C, 1/K: IEC 60028. */
const COPPER = 0.00393;

/** What is left of a drop in the coldest copper; never taken as more than at 20 °C, for it helps. */
const coldShare = (coldest: number): number => Math.min(1, Math.max(0, 1 + COPPER * (coldest - 20)));

const row = (name: string, value: number, spread: boolean, { source, mark }: Source): Contribution => ({
  name,
  value,
  spread,
  source,
  mark,
});

/** An edge from its rows; what varies counts in the root-sum-square with the sign it has in the sum. */
function edgeOf(rows: readonly Contribution[]): Edge {
  const fixed = rows.filter(({ spread }) => !spread).reduce((sum, { value }) => sum + value, 0);
  const spread = rows.filter((each) => each.spread);
  const total = spread.reduce((sum, { value }) => sum + value, 0);
  const root = Math.hypot(...spread.map(({ value }) => value));
  return { rows, worst: fixed + total, rss: fixed + Math.sign(total) * root };
}

const SETTING = commonPractice(0.01, "set with a meter of 1 %");

/** The highest voltage of the sources in normal service, without ripple, V: what it is made of. */
export function normalRows(line: TripLine, settings: TripSettings): Contribution[] {
  const rows: Contribution[] = [];
  const { setVoltage } = line;
  let reached = 0;
  let isSet = true;
  if (setVoltage !== null) {
    rows.push(
      row(`set voltage of ${setVoltage.name}`, setVoltage.value, false, {
        source: "the line's file",
        mark: "published",
      }),
    );
    reached = setVoltage.value;
  } else if (line.restingEmf !== null && settings.chargeVoltage === null && line.charge === null) {
    rows.push(row(`${line.restingEmf.name} at rest`, line.restingEmf.value, false, LIMIT));
    reached = line.restingEmf.value;
    isSet = false;
  }
  const charge = settings.chargeVoltage ?? line.charge?.value ?? null;
  if (charge !== null && (charge > reached || settings.chargeVoltage !== null)) {
    const cited = settings.chargeVoltage === null && line.charge !== null ? line.charge : GIVEN;
    rows.push(row(reached === 0 ? "charge voltage" : "raised to charge the battery", charge - reached, false, cited));
    reached = charge;
  }
  const perKelvin = settings.compensation ?? line.compensation?.value ?? 0;
  const cold = Math.max(0, 25 - settings.coldest);
  if (perKelvin > 0 && cold > 0) {
    const cited = settings.compensation === null && line.compensation !== null ? line.compensation : GIVEN;
    rows.push(
      row(`cold compensation at ${degrees(settings.coldest)}`, perKelvin * cold, false, {
        ...cited,
        source: `${cited.source}; ${formatQuantity(perKelvin, "voltage")}/K below 25 °C`,
      }),
    );
    reached += perKelvin * cold;
  }
  if (settings.supplyMaximum !== null) {
    // What was given says all: of how it comes about only the difference is left.
    const given = row("normal maximum of the supply", settings.supplyMaximum - reached, false, GIVEN);
    return reached === 0 || Math.abs(given.value) > 1e-9 ? [...rows, given] : rows;
  }
  if (!isSet) return rows;
  rows.push(row("accuracy of the setting", (SETTING.value as number) * reached, true, SETTING));
  return rows;
}

/** What normal service was found to do, V. */
export interface ServiceFound {
  /** Of the highest source over the protector while the radios receive. */
  readonly sourceDrop: number;
  /** The worst of the transients, behind the sense filter, above rest. */
  readonly transient: { readonly name: string; readonly excess: number };
}

/** The lower edge: the highest voltage that the protector senses in normal service. */
export function bottomEdge(normal: readonly Contribution[], found: ServiceFound, settings: TripSettings): Edge {
  const { sourceDrop, transient } = found;
  return edgeOf([
    ...normal,
    row("ripple, peak above mean", settings.ripple, true, {
      source: "given or usual: well-kept supplies stay below 100 mV from peak to peak",
      mark: "common practice",
    }),
    row("drop from source to protector, receive", -sourceDrop * coldShare(settings.coldest), false, {
      source: "full simulation of this line, as of copper at its coldest",
      mark: "computed",
    }),
    row(transient.name, Math.max(0, transient.excess), true, SIMULATED),
    row("radio-frequency pick-up", settings.pickup, true, {
      source: "given or taken as 100 mV, whatever the filter does",
      mark: "assumed",
    }),
  ]);
}

/** What the line's fault was found to do with the trip point at the upper edge, V. */
export interface ResponseFound {
  readonly trip: number;
  readonly load: string;
  readonly limit: number;
  readonly peak: number;
  readonly decided: number;
  readonly acted: number;
  /** False where the healthy line would trip at the edge: then the figures are those of a higher trip point, at which the load passed its limit. */
  readonly verified: boolean;
}

/** The upper edge against the line's own fault: the highest trip voltage that keeps every load within its limit while the voltage runs up. */
export function fastEdge({ trip, load, limit, peak, decided, acted, verified }: ResponseFound): Edge {
  return edgeOf([
    row(`limit of ${load}`, limit, false, LIMIT),
    row("rise while the sense filter follows", trip - decided, false, SIMULATED),
    row("rise until the protector acts", decided - acted, false, SIMULATED),
    row("lead and capacitor of the load", acted - peak, false, SIMULATED),
    ...(verified
      ? [
          row("kept back by the search", peak - limit, false, {
            source: "the search ends on the safe side",
            mark: "computed",
          }),
        ]
      : []),
  ]);
}

/**
 * The upper edge against a voltage that creeps up and stays just below the trip point for good: the load's limit and what its lead drops.
 *
 * @param loads limits and drops from the protector while they receive, V
 */
export function slowEdge(
  loads: readonly { readonly name: string; readonly limit: number; readonly drop: number }[],
  settings: TripSettings,
): Edge {
  const share = coldShare(settings.coldest);
  const { name, limit, drop } = loads.reduce((least, each) =>
    each.limit + each.drop * share < least.limit + least.drop * share ? each : least,
  );
  return edgeOf([
    row(`limit of ${name}`, limit, false, LIMIT),
    row("drop from protector to load, receive", drop * share, false, {
      source: "full simulation of this line, as of copper at its coldest",
      mark: "computed",
    }),
  ]);
}
