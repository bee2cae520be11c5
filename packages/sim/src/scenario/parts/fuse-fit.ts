import type { Issue } from "../../issue/issue.ts";
import { InvalidInput } from "../../issue/issue.ts";
import { fitProblems } from "./fuse-fit-input.ts";
import type { FuseFit, FuseFitInput, FuseFitPoint } from "./fuse-fit-types.ts";
import { type FuseModel, meltingTime } from "./fuse-melting.ts";
import { leastSquares } from "./least-squares.ts";

export type { FuseFit, FuseFitInput, FuseGate } from "./fuse-fit-types.ts";
export { type FuseModel, largeCurrentMeltingI2t, meltingCurve, meltingTime } from "./fuse-melting.ts";

/** The multiple at which nominal melting I²t is measured. */
const NOMINAL_MULTIPLE = 10;
/** A gate that must hold for so long counts as a current that never melts the fuse, s. */
const CARRIED = 1800;
/** Above this worst deviation a further stage is tried. */
const GOOD_ENOUGH = 0.05;
/** Pull towards the usual shape where the points leave it open; too weak to be seen beside a point. */
const PULL = 0.02;
/** Weight of a point read off a curve, against that of the middle of a band. */
const CURVE_WEIGHT = 10;
/** Weight of leaving a gate, against that of missing a target, and how far inside the fit keeps (in log time). */
const GATE_WEIGHT = 10;
const GATE_MARGIN = 0.05;

/**
 * Fits the thermal model of a fuse (two or three stages, resistance feedback) to what is published about it.
 *
 * The melting I²t at 10 × rated is met exactly, by a common factor on all time constants, which scales every melting
 * time alike. The rest (minimum melting current, weights, ratios of the time constants) is fitted in log time: a band
 * aims at its geometric middle, a one-sided gate is only kept. Two stages first, a third where they miss a target by
 * more than 5 %. Where the points leave the shape open, a weak pull towards time constants ten apart and a minimum
 * melting current midway between the last current carried for good and the first that melts decides.
 *
 * @returns model, every point with its deviation, and whether the model lies inside every gate: the caller must say so where not
 * @throws InvalidInput with every problem found: no positive number, a gate without a limit, nothing to fit to
 * @example fitFuse({ ratedCurrent: 20, nominalMeltingI2t: 520, resistanceRatio: 2,
 *   gates: [{ multiple: 2, minimum: 0.15, maximum: 5 }] }).insideGates // true
 */
export function fitFuse(input: FuseFitInput): FuseFit {
  const problems: readonly Issue[] = fitProblems(input);
  if (problems.length > 0) throw new InvalidInput(problems);
  const aims = aimsOf(input);
  let best = judge(fitStages(input, aims, 2, USUAL_SHAPE), aims);
  if (best.insideGates && best.worstDeviation <= GOOD_ENOUGH) return best;
  const third = judge(fitStages(input, aims, 3, USUAL_SHAPE), aims);
  if (better(third, best)) best = third;
  // A slow fuse with a low melting I²t is found only from a start with little heat in the fast stage.
  if (!best.insideGates || best.worstDeviation > GOOD_ENOUGH) {
    const slow = judge(fitStages(input, aims, 3, SLOW_SHAPE), aims);
    if (better(slow, best)) best = slow;
  }
  return best;
}

/** Logarithms of a stage's weight over the first one's, and of (its time constant over the previous one's, less one). */
interface Shape {
  readonly weight: number;
  readonly ratio: number;
}
const USUAL_SHAPE: Shape = { weight: -0.5, ratio: Math.log(9) };
const SLOW_SHAPE: Shape = { weight: 1.5, ratio: Math.log(24) };

type Aim = Omit<FuseFitPoint, "time" | "deviation">;

function better(a: FuseFit, b: FuseFit): boolean {
  if (a.insideGates !== b.insideGates) return a.insideGates;
  return a.worstDeviation < 0.9 * b.worstDeviation;
}

function aimsOf(input: FuseFitInput): Aim[] {
  const aims: Aim[] = [];
  const nominal = input.nominalMeltingI2t;
  if (nominal !== null) {
    const current = NOMINAL_MULTIPLE * input.ratedCurrent;
    aims.push({ what: "melting I²t", current, target: nominal / current ** 2, minimum: null, maximum: null });
  }
  for (const { multiple, minimum, maximum } of input.gates) {
    const current = multiple * input.ratedCurrent;
    const ruled = nominal !== null && multiple === NOMINAL_MULTIPLE;
    const target = minimum === null || maximum === null || ruled ? null : Math.sqrt(minimum * maximum);
    aims.push({ what: "gate", current, target, minimum, maximum });
  }
  for (const { current, time } of input.points ?? []) {
    aims.push({ what: "curve point", current, target: time, minimum: null, maximum: null });
  }
  return aims;
}

/** Between these the minimum melting current lies: carried for good, and known to melt. */
function meltingCurrentRange(input: FuseFitInput, aims: readonly Aim[]): { low: number; high: number } {
  let low = input.ratedCurrent;
  let high = 3 * input.ratedCurrent;
  for (const { current, target, minimum, maximum } of aims) {
    if (target === null && maximum === null && minimum !== null && minimum >= CARRIED) low = Math.max(low, current);
    else if (target !== null || maximum !== null) high = Math.min(high, current);
  }
  // A curve may be given down to below the current that a gate carries: then the curve is believed.
  return { low: low < high ? low : 0.8 * high, high };
}

function fitStages(input: FuseFitInput, aims: readonly Aim[], count: number, from: Shape): FuseModel {
  const { low, high } = meltingCurrentRange(input, aims);
  const given = input.minimumMeltingCurrent ?? null;
  const shape = (p: readonly number[]): FuseModel => {
    const share = 1 / (1 + Math.exp(-p[0]));
    const shares = [1];
    const times = [1];
    for (let m = 1; m < count; m++) {
      shares.push(Math.exp(clampTo(p[2 * m - 1], 12)));
      times.push(times[m - 1] * (1 + Math.exp(clampTo(p[2 * m], 12))));
    }
    const total = shares.reduce((sum, s) => sum + s, 0);
    return {
      resistanceRatio: input.resistanceRatio,
      minimumMeltingCurrent: given ?? low * (high / low) ** share,
      stages: shares.map((s, m) => ({ weight: s / total, timeConstant: times[m] })),
    };
  };
  const parametersOf = ({ weight, ratio }: Shape) => [
    0,
    ...Array.from({ length: count - 1 }, () => [weight, ratio]).flat(),
  ];
  const usual = parametersOf(USUAL_SHAPE);
  const residuals = (p: readonly number[]): number[] => {
    const model = scaled(shape(p), aims);
    const pull = p.map((value, i) => PULL * (value - usual[i]));
    return [...aims.flatMap((aim) => misses(aim, meltingTime(model, aim.current))), ...pull];
  };
  return scaled(shape(leastSquares(residuals, parametersOf(from)).parameters), aims);
}

/** The model with its time constants scaled so that it meets the melting I²t, else its targets on average. */
function scaled(model: FuseModel, aims: readonly Aim[]): FuseModel {
  const ruling = aims.filter((aim) => aim.what === "melting I²t");
  const logs = (ruling.length > 0 ? ruling : aims).flatMap(({ current, target }) =>
    target === null ? [] : [Math.log(target / finite(meltingTime(model, current)))],
  );
  const factor = Math.exp(logs.reduce((sum, v) => sum + v, 0) / logs.length);
  return { ...model, stages: model.stages.map((s) => ({ weight: s.weight, timeConstant: s.timeConstant * factor })) };
}

function misses(aim: Aim, time: number): number[] {
  const log = Math.log(finite(time));
  const weight = aim.what === "curve point" ? CURVE_WEIGHT : 1;
  const target = aim.target === null ? 0 : weight * (log - Math.log(aim.target));
  const early = aim.minimum === null ? 0 : Math.max(0, Math.log(aim.minimum) + GATE_MARGIN - log);
  const late = aim.maximum === null ? 0 : Math.max(0, log - Math.log(aim.maximum) + GATE_MARGIN);
  return [target, GATE_WEIGHT * early, GATE_WEIGHT * late];
}

/** A current that never melts counts as very late, so that a fit can still come back from there. */
function finite(time: number): number {
  return Math.min(time, 1e9);
}

function clampTo(value: number, limit: number): number {
  return Math.min(Math.max(value, -limit), limit);
}

function judge(model: FuseModel, aims: readonly Aim[]): FuseFit {
  const points = aims.map((aim): FuseFitPoint => {
    const time = meltingTime(model, aim.current);
    return { ...aim, time, deviation: aim.target === null ? null : Math.log(time / aim.target) };
  });
  return {
    ...model,
    points,
    worstDeviation: points.reduce((worst, { deviation }) => Math.max(worst, Math.abs(deviation ?? 0)), 0),
    insideGates: points.every(
      ({ time, minimum, maximum }) => (minimum === null || time >= minimum) && (maximum === null || time <= maximum),
    ),
  };
}
