import type { StateRole } from "./rounds-types.ts";

/** One round as it was integrated: where it began and ended, how long it took, and what it added to the sums. */
export interface MeasuredRound {
  readonly start: Float64Array;
  readonly end: Float64Array;
  readonly period: number;
  readonly sums: Float64Array;
  /** What else is kept and has to return, at its end. */
  readonly kept: Float64Array;
}

/** Where some rounds in a row lead. */
export interface Journey {
  readonly state: Float64Array;
  readonly sums: Float64Array;
  /** When each round ended, counted from the start. */
  readonly ends: readonly number[];
}

/** Feeding states that moved less than this, of their scale, teach nothing about how a round depends on them. */
const LEAST_LESSON = 1e-5;

/**
 * The map from one round to the next. For the state x at the start of a round, s the states in x that feed back:
 *
 *     relaxes   x → e^(−P/τ)·x + b(s)        adds up, keeps   x → x + b(s)        returns   x → b(s)        P = P(s)
 *
 * All b, the sums' gains and P are linear in s about the round measured last; how they move with s is learnt from the rounds measured (a secant
 * in the direction in which s went: Broyden, Math. Comp. 19, 1965). Where nothing feeds back the map is exact for any number of rounds.
 */
export class RoundMap {
  private readonly roles: readonly StateRole[];
  /** Scales of the states that feed back. */
  private readonly feeding: readonly number[];
  private readonly scales: readonly number[];
  /** Gains: of the states, of the sums, the period, what else is kept. */
  private gains: Float64Array = new Float64Array(0);
  private keptCount = 0;
  private centre: readonly number[] = [];
  /** Change of each gain with each feeding state, row by row. */
  private slopes: Float64Array = new Float64Array(0);

  constructor(roles: readonly StateRole[], scales: readonly number[]) {
    this.roles = roles;
    this.scales = scales;
    this.feeding = roles.flatMap((role, i) => (role.kind === "relaxes" && role.feedsBack ? [i] : []));
  }

  /** Takes in a round that was integrated; how the gains move is learnt from its difference to the one before. */
  learn(round: MeasuredRound): void {
    const { feeding } = this;
    this.keptCount = round.kept.length;
    const gains = this.gainsOf(round);
    const centre = feeding.map((i) => round.start[i]);
    if (this.gains.length !== gains.length) {
      this.slopes = new Float64Array(gains.length * feeding.length);
    } else {
      const moved = centre.map((value, d) => (value - this.centre[d]) / this.scales[feeding[d]]);
      const square = moved.reduce((sum, value) => sum + value * value, 0);
      if (square > LEAST_LESSON * LEAST_LESSON) {
        const foretold = this.gainsAt(round.start);
        for (let k = 0; k < gains.length; k++) {
          const wrong = (gains[k] - foretold[k]) / square;
          for (let d = 0; d < feeding.length; d++)
            this.slopes[k * feeding.length + d] += (wrong * moved[d]) / this.scales[feeding[d]];
        }
      }
    }
    this.gains = gains;
    this.centre = centre;
  }

  /** What has to return is foretold to be so much at the end of a round that starts at `start`: states by their number, and what else is kept. */
  returns(start: Float64Array): { readonly state: Float64Array; readonly kept: Float64Array } {
    const gains = this.gainsAt(start);
    return { state: gains.subarray(0, this.roles.length), kept: gains.subarray(gains.length - this.keptCount) };
  }

  /** Goes round after round from `start`; `look` is shown each round's start, time and sums so far, and ends the journey by answering false. */
  travel(
    start: Float64Array,
    rounds: number,
    look: (start: Float64Array, time: number, sums: Float64Array) => boolean,
  ): Journey {
    const { roles, gains } = this;
    const n = roles.length;
    const count = gains.length - n - 1 - this.keptCount;
    const state = start.slice();
    const sums = new Float64Array(count);
    const ends: number[] = [];
    let time = 0;
    while (ends.length < rounds && look(state, time, sums)) {
      const now = this.feeding.length === 0 ? gains : this.gainsAt(state);
      const period = now[n + count];
      for (let i = 0; i < n; i++) state[i] = stay(roles[i], period) * state[i] + now[i];
      for (let k = 0; k < count; k++) sums[k] += now[n + k];
      time += period;
      ends.push(time);
    }
    return { state, sums, ends };
  }

  private gainsAt(start: Float64Array): Float64Array {
    const { feeding, slopes, centre } = this;
    const out = this.gains.slice();
    for (let d = 0; d < feeding.length; d++) {
      const moved = start[feeding[d]] - centre[d];
      for (let k = 0; k < out.length; k++) out[k] += slopes[k * feeding.length + d] * moved;
    }
    return out;
  }

  private gainsOf({ start, end, sums, period, kept }: MeasuredRound): Float64Array {
    const n = start.length;
    const out = new Float64Array(n + sums.length + 1 + kept.length);
    for (let i = 0; i < n; i++) out[i] = end[i] - stay(this.roles[i], period) * start[i];
    out.set(sums, n);
    out[n + sums.length] = period;
    out.set(kept, n + sums.length + 1);
    return out;
  }
}

/** The share of a state's start that is left after a round. */
export function stay(role: StateRole, time: number): number {
  if (role.kind === "relaxes") return Math.exp(-time / role.timeConstant);
  return role.kind === "returns" ? 0 : 1;
}
