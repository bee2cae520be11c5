import { changeTexts, type TextChange } from "../../scenario/index.ts";
import { pathText } from "../../scenario/keys.ts";
import { TOLERANCES, valueText } from "../../scenario/spread/index.ts";
import type { Spread } from "../../scenario/spread/types.ts";
import { isEndangered, isTold, OUTCOMES, type Outcome } from "../pool/outcome.ts";
import type { Collected } from "./collect.ts";
import { isWorse, type Rows, worstOf } from "./rows.ts";
import { Sampling } from "./sampling.ts";
import { type Chance, chanceCorrelation, quantile, rankCorrelation, wilson } from "./statistics.ts";
import { studied } from "./studied.ts";

/** How a figure is distributed over the samples, in its own SI unit. */
export interface Distribution {
  /** Samples that have this figure. */
  readonly count: number;
  /** Smallest of them. */
  readonly least: number;
  /** Largest of them. */
  readonly most: number;
  /** Values below which the share `probability` (0 to 1) of the samples lies. */
  readonly quantiles: readonly { readonly probability: number; readonly value: number }[];
}

/** One sample or corner with all its values. */
export interface Told {
  readonly kind: "sample" | "corner";
  /** Among all samples or corners, from 0. */
  readonly index: number;
  /** How it ended. */
  readonly outcome: Outcome;
  /** Largest voltage at a load, V; null where there is none. */
  readonly peak: number | null;
  /** From the fault to the first trip, s; null where nothing tripped. */
  readonly trip: number | null;
  /** As they stand in a file. */
  readonly values: readonly { readonly path: string; readonly label: string; readonly text: string }[];
}

/** What one value has to do with it. */
export interface Influence {
  /** Of the value in the file. */
  readonly path: string;
  /** In the words of the file. */
  readonly label: string;
  /** The spread as it was written: `±2 % normal`. */
  readonly written: string;
  /** Rank correlation with the load's peak, −1 to 1; null where nothing varies. */
  readonly withPeak: number | null;
  /** Rank correlation with the time to the first trip, −1 to 1; null where nothing varies. */
  readonly withTrip: number | null;
  /** What it does alone, at its lower and its upper end: the value as written, the outcome, the load's peak, V. */
  readonly alone: readonly { readonly text: string; readonly outcome: Outcome; readonly peak: number | null }[];
}

/** What a study of tolerances found. */
export interface TolerancesSummary {
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** How many were run. */
  readonly samples: number;
  /** From which they were drawn. */
  readonly seed: number;
  /** The values as the file has them: outcome, the load's peak, V, and the time to the first trip, s. */
  readonly nominal: { readonly outcome: Outcome; readonly peak: number | null; readonly trip: number | null };
  /** Chance that a load is above its maximum; of the samples that tell. Null where none does. */
  readonly endangered: Chance | null;
  /** Chance that a load is beyond what it stands. */
  readonly beyond: Chance | null;
  /** Samples too close to call. */
  readonly close: number;
  /** How often each came, of all samples; the worst first. */
  readonly outcomes: readonly { readonly outcome: Outcome; readonly chance: Chance }[];
  /** Of the largest voltage at a load, V; null where no sample tells. */
  readonly peak: Distribution | null;
  /** Of the time from the fault to the first trip, s; null where none tripped. */
  readonly trip: Distribution | null;
  /** The value with the largest rank correlation with the peak first. */
  readonly influences: readonly Influence[];
  /** A rank correlation with the peak that is nearer to 0 may be chance. */
  readonly noise: number;
  /** A rank correlation with the time to the trip that is nearer to 0 may be chance; fewer samples tell of it. Null where none does. */
  readonly tripNoise: number | null;
  /** All combinations of the ends of the most telling values, which `labels` names. */
  readonly corners: {
    /** The values whose ends are combined, the most telling first. */
    readonly labels: readonly string[];
    /** How many corners were run. */
    readonly count: number;
    /** How often each came; the worst first. */
    readonly outcomes: readonly { readonly outcome: Outcome; readonly count: number }[];
    /** The worst of them; null where none tells. */
    readonly worst: Told | null;
    /** Whether the worst sample is worse than all of them: what else varies has its part in it, too. False where nothing was combined. */
    readonly passed: boolean;
  };
  /** The worst of the samples; null where none tells. */
  readonly worst: Told | null;
  /** The first hundred samples, and the first hundred corners, that could not be run or broke off; `of` tells which. */
  readonly broken: readonly (Rows["broken"][number] & { readonly of: Told["kind"] })[];
}

/** Peaks that lie nearer to each other than this share are alike: integration leaves as much. */
const TELLING = 1e-4;

const PROBABILITIES = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99] as const;

/**
 * Makes of all runs of a study what it says: chances, distributions, what matters, and the worst.
 *
 * @param collected of the whole study, or of joined parts
 * @throws RangeError where its text is no scenario
 * @example summarise(collected).endangered?.high
 */
export function summarise(collected: Collected): TolerancesSummary {
  const { options, samples, corners, alone, telling } = collected;
  const { spreads, scenario, about } = studied(collected);
  const sampling = new Sampling(spreads, options.seed, scenario.ambient);
  const told = tell(spreads);
  const [peaks, trips] = [samples.peak, samples.trip].map(distribution);
  const worstSample = worstOf(samples);
  const worstCorner = worstOf(corners);
  const counted = counts(samples);
  const all = counted.filter(({ outcome }) => isTold(outcome)).reduce((sum, { count }) => sum + count, 0);
  const chance = (count: number): Chance | null => (all === 0 ? null : wilson(count, all));
  const sum = (which: (outcome: Outcome) => boolean): number =>
    counted.reduce((total, { outcome, count }) => total + (which(outcome) ? count : 0), 0);
  return {
    title: about.title,
    samples: samples.outcomes.length,
    seed: options.seed,
    nominal: { outcome: OUTCOMES[alone.outcomes[0]], peak: known(alone.peak[0]), trip: known(alone.trip[0]) },
    endangered: chance(sum(isEndangered)),
    beyond: chance(sum((outcome) => outcome === "load beyond what it stands")),
    close: samples.close.reduce((total, each) => total + each, 0),
    outcomes: counted.map(({ outcome, count }) => ({ outcome, chance: wilson(count, samples.outcomes.length) })),
    peak: peaks,
    trip: trips,
    influences: influences(collected, spreads, sampling),
    noise: chanceCorrelation(peaks?.count ?? 0),
    tripNoise: trips === null ? null : chanceCorrelation(trips.count),
    corners: {
      labels: telling.map((which) => spreads[which].label),
      count: corners.outcomes.length,
      outcomes: counts(corners),
      worst:
        worstCorner === null ? null : told("corner", corners, worstCorner, (index) => sampling.corner(telling, index)),
      passed:
        telling.length > 0 &&
        worstSample !== null &&
        (worstCorner === null || isWorse(samples, worstSample, corners, worstCorner, TELLING)),
    },
    worst: worstSample === null ? null : told("sample", samples, worstSample, (index) => sampling.sample(index)),
    broken: [
      ...samples.broken.map((each) => ({ of: "sample", ...each }) as const),
      ...corners.broken.map((each) => ({ of: "corner", ...each }) as const),
    ],
  };
}

const known = (value: number): number | null => (Number.isFinite(value) ? value : null);

function counts({ outcomes }: Rows): { outcome: Outcome; count: number }[] {
  const found = OUTCOMES.map(() => 0);
  for (const each of outcomes) found[each] += 1;
  return OUTCOMES.flatMap((outcome, k) => (found[k] === 0 ? [] : [{ outcome, count: found[k] }]));
}

function distribution(values: Float64Array): Distribution | null {
  const sorted = values.filter(Number.isFinite).sort();
  if (sorted.length === 0) return null;
  return {
    count: sorted.length,
    least: sorted[0],
    most: sorted[sorted.length - 1],
    quantiles: PROBABILITIES.map((probability) => ({ probability, value: quantile(sorted, probability) })),
  };
}

function tell(spreads: readonly Spread[]) {
  return (kind: Told["kind"], rows: Rows, at: number, make: (index: number) => readonly number[]): Told => {
    const index = rows.first + at;
    const values = make(index);
    return {
      kind,
      index,
      outcome: OUTCOMES[rows.outcomes[at]],
      peak: known(rows.peak[at]),
      trip: known(rows.trip[at]),
      values: spreads.map(({ path, label, unit }, k) => ({
        path: pathText(path),
        label,
        text: valueText(values[k], unit),
      })),
    };
  };
}

function influences({ samples, alone }: Collected, spreads: readonly Spread[], sampling: Sampling): Influence[] {
  const { first, share, trip } = samples;
  // Rank correlations leave samples out that lack the figure.
  const correlate = (values: Float64Array, figure: Float64Array): number | null => {
    const isKnown = (_: number, k: number): boolean => Number.isFinite(figure[k]);
    return rankCorrelation(values.filter(isKnown), figure.filter(isKnown));
  };
  const found = spreads.map(({ path, label, written, unit }, which): Influence => {
    const ends = (["low", "high"] as const).map((end, k) => ({
      text: valueText(sampling.alone(which, end)[which], unit),
      outcome: OUTCOMES[alone.outcomes[1 + 2 * which + k]],
      peak: known(alone.peak[1 + 2 * which + k]),
    }));
    const values = Float64Array.from(share, (_, k) => sampling.valueOf(first + k, which));
    return {
      path: pathText(path),
      label,
      written,
      withPeak: correlate(values, share),
      withTrip: correlate(values, trip),
      alone: ends,
    };
  });
  const size = (value: number | null): number => Math.abs(value ?? 0);
  return found.toSorted(
    (a, b) => size(b.withPeak) - size(a.withPeak) || size(b.withTrip) - size(a.withTrip) || (a.path < b.path ? -1 : 1),
  );
}

/**
 * A scenario file that says what one sample or corner was: its values written in, its spreads taken out, all else as it was.
 *
 * @param text of the study
 * @example
 * const { spreads } = parseScenario(text, "hut.yaml");
 * if (summary.worst !== null) writeFileSync("worst.yaml", reproduce(text, summary.worst, spreads));
 */
export function reproduce(text: string, { values }: Pick<Told, "values">, spreads: readonly Spread[]): string {
  const changes = values.map(({ path, text: value }): TextChange => {
    const spread = spreads.find((each) => pathText(each.path) === path);
    if (spread === undefined) throw new RangeError(`no spread at ${path}`);
    return [spread.path, value];
  });
  return changeTexts(text, [[[TOLERANCES], null], ...changes]);
}

/** One sample by its index; null where there is none. */
export function sampleTold(collected: Collected, index: number): Told | null {
  const { options, samples } = collected;
  const at = index - samples.first;
  if (!(at >= 0 && at < samples.outcomes.length)) return null;
  const { spreads, scenario } = studied(collected);
  const sampling = new Sampling(spreads, options.seed, scenario.ambient);
  return tell(spreads)("sample", samples, at, (each) => sampling.sample(each));
}

/** Exit status of the command: 1 a load endangered or too close to call, 3 something without a verdict, 4 something beyond its rating, else 0. */
export function statusOf({ samples, corners }: Pick<Collected, "samples" | "corners">): 0 | 1 | 3 | 4 {
  const found = new Set([samples, corners].flatMap(({ outcomes }) => [...new Set(outcomes)].map((k) => OUTCOMES[k])));
  const close = [samples, corners].some((rows) => rows.close.includes(1));
  if (close || [...found].some(isEndangered)) return 1;
  if ([...found].some((outcome) => !isTold(outcome))) return 3;
  return [...found].some((outcome) => outcome.endsWith("beyond its rating")) ? 4 : 0;
}
