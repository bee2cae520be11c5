import { unitsAt } from "../pool/counter.ts";
import { type Around, densityOf } from "./density.ts";
import { triangleOf } from "./matrix.ts";
import type { Ground } from "./search.ts";
import { momentsOf, walk } from "./slice.ts";
import { densityFor, endsOf, straightOf } from "./straight.ts";

/** A lag of first order that all channels have in common. */
export interface Lag {
  /** How large it is by the capture, s, and whether it surely is there. */
  readonly value: number;
  readonly isThere: boolean;
  /** By how much each value is told too high where the instrument lags by `tried`, s. */
  readonly tried: number;
  readonly moves: readonly number[];
}

/** An instrument lags where no more than this share of so many rounds has it lag by less than this share of a sample interval. */
const LAG_LEARNING = 80;
const LAG_ROUNDS = 200;
const LAG_CHANCE = 0.005;
const LAG_FELT = 0.05;
/** The lag for which it is told what it would do, as a share of a sample interval: an edge settles to 4 % within one. */
const LAG_TRIED = 0.3;

/** Walks once more where the instrument may lag, too, and where it lags by a given time. */
export function lagOf(
  ground: Ground,
  around: Around,
  scatter: readonly number[],
  moved: readonly number[],
  begin: Begin,
): Lag {
  const place = around.all.length;
  const most = endsOf(ground, place)[1];
  let draw = 0;
  const next = (): number => unitsAt(1, draw++, 0)[0];
  const whole = densityOf(ground, { ...around, all: [...around.all, 0] }, scatter);
  const all = [...moved, place];
  const { factor } = straightOf(ground, whole.straight, all);
  const density = densityFor(whole, all, place + 1);
  const learnt = walk({ density, factor, next }, Float64Array.from([...begin.mean, 0.02 * most]), LAG_LEARNING);
  const own = triangleOf(momentsOf(learnt.slice(LAG_LEARNING / 4)).covariance) ?? factor;
  const places = walk({ density, factor: own, next }, learnt[LAG_LEARNING - 1], LAG_ROUNDS);
  const lags = places.map((each) => each[moved.length]);
  const tried = LAG_TRIED * most;
  const held = densityFor(densityOf(ground, { ...around, all: [...around.all, tried] }, scatter), moved, place + 1);
  const moves = momentsOf(
    walk({ density: held, factor: begin.factor, next }, begin.mean, LAG_LEARNING).slice(LAG_LEARNING / 4),
  );
  return {
    value: lags.reduce((sum, lag) => sum + lag / lags.length, 0),
    isThere: lags.filter((lag) => lag < LAG_FELT * most).length <= LAG_CHANCE * LAG_ROUNDS,
    tried,
    moves: ground.varied.map((_, k) => {
      const j = moved.indexOf(k);
      return j < 0 ? 0 : begin.mean[j] - moves.mean[j];
    }),
  };
}

/** Where a walk begins, and how its steps lie. */
interface Begin {
  readonly mean: Float64Array;
  readonly factor: number[][];
}
