import { Ledger } from "./course.ts";
import { type Journey, type MeasuredRound, type RoundMap, stay } from "./round-map.ts";
import { RoundTrial, type TrialParts, type TriedRound } from "./round-trial.ts";
import type { RoundEvent } from "./rounds-types.ts";
import type { LoggedEvent } from "./types.ts";

/*
 * From the start of a round, all on the side:
 *
 *   integrate two rounds, learn the map
 *   until the time is up or a level is near:
 *     hop: travel over n rounds by the map
 *     integrate rounds where it lands until what has to return does; learn the map anew
 *     travel again with what is known now at both ends: what that changes is the hop's error
 *     too large: the same with a quarter of n. Else: the second journey stands, and n grows with the accuracy
 */

/** Rounds below which a hop is not worth landing from. */
const LEAST_HOP = 4;
/** Rounds left to the run itself before whatever ends a leap, beside those that a landing may take. */
const LEFT_OVER = 3;
const LONGEST_LANDING = 5;
/** What the second journey may change at most of a state, relative. It is kept, so what is left is far smaller. */
const HOP_ERROR = 1e-5;
/** How far a state that has to return may stray over a hop, relative. */
export const STRAY = 1e-6;
/** States below this share of their scale count as so large. */
const FLOOR = 1e-3;
/** A level counts as reached when it is nearer than this, relative. */
const NEAR_LEVEL = 1e-5;
const MOST_HOPS = 200;
/** A state that has to return and would stray only after so many rounds has settled. */
const ENOUGH_ROUNDS = 1e4;

export interface PlanParts extends TrialParts {
  readonly map: RoundMap;
  readonly start: Float64Array;
  /** What a round logs. */
  readonly pattern: readonly LoggedEvent[];
  readonly firstStep: number;
  /** Time until something that does not belong to the rounds happens, s. */
  readonly limit: number;
  /** Called with the modes of the start of a round, before rounds are integrated from there. */
  readonly prepare: () => void;
}

export interface LeapPlan {
  readonly state: Float64Array;
  readonly sums: Float64Array;
  /** Brings the modes that go with the state. */
  readonly modes: () => void;
  readonly duration: number;
  readonly ends: readonly number[];
  readonly period: number;
  readonly events: readonly RoundEvent[];
  readonly peaks: readonly { readonly value: number; readonly time: number }[];
  readonly ledger: Ledger;
}

/** Why rounds are integrated one by one. */
export interface Refusal {
  readonly reason: string;
}

/** Works out a leap; where not even one hop can be made, why. Comes up for air while it integrates. */
export function* planLeap(parts: PlanParts): Generator<void, LeapPlan | Refusal> {
  const { map, repeating, start, pattern, firstStep, limit, prepare, system } = parts;
  const { roles, gauges } = repeating;
  let modes = repeating.remember();
  const land = (state: Float64Array): RoundTrial => {
    modes();
    prepare();
    return new RoundTrial(parts, state, pattern, firstStep);
  };
  const unlike: Refusal = { reason: "the next round is not like the last" };
  const changing: Refusal = { reason: "what a round adds changes too much from one to the next" };
  const first = yield* settle(land(start));
  if (first === null) return unlike;
  if (passing(first)) return { reason: "a level is about to be passed" };
  modes = repeating.remember();
  let here = first.last;
  let stray = first.stray;
  let state = here.end.slice();
  let sums = first.sums;
  let ends = first.ends;
  const peaks = gauges.map(() => ({ value: Number.NEGATIVE_INFINITY, time: 0 }));
  const offer = (g: number, value: number, at: number): void => {
    if (value > peaks[g].value) peaks[g] = { value, time: at };
  };
  const ledger = new Ledger([...parts.watcher.windowed]);
  for (const [k, round] of first.rounds.entries()) {
    ledger.add(first.ends[k], total(first.rounds.slice(0, k + 1)), round.course);
    for (const [g, { value, offset }] of round.peaks.entries()) offer(g, value, first.ends[k] - round.period + offset);
  }
  let hops = 0;
  let wanted = 2 * LEAST_HOP;
  let why: Refusal = { reason: "something else is due too soon" };
  for (let attempt = 0; attempt < MOST_HOPS; attempt++) {
    const time = ends[ends.length - 1];
    const room = Math.floor((limit - time) / here.period) - LEFT_OVER - LONGEST_LANDING;
    const most = Math.min(wanted, room, stray.rounds);
    if (most < LEAST_HOP) {
      if (stray.rounds < Math.min(wanted, room)) why = { reason: stray.reason };
      break;
    }
    const clear = clearRounds(here, state, Math.floor(most));
    if (clear < LEAST_HOP) break;
    const foretold = map.travel(state, clear, () => true);
    const landing = yield* settle(land(foretold.state));
    if (landing === null || passed(here, landing.last)) {
      wanted = clear / 4;
      why = { reason: "after some rounds something else happens in them" };
      continue;
    }
    const mended = map.travel(state, clear, () => true);
    const error = difference(mended, foretold);
    if (!(error <= HOP_ERROR)) {
      [wanted, why] = [clear / 4, changing];
      continue;
    }
    if (landing.stray.rounds < LEAST_HOP) {
      wanted = clear / 4;
      why = { reason: landing.stray.reason };
      continue;
    }
    // Seen from where it lands a level may be nearer than it seemed.
    if (clearRounds(landing.last, state, clear) < clear) {
      wanted = clear / 4;
      continue;
    }
    // The first round after a landing settles and is not quite like the others: the map, learnt behind it, goes through all of them.
    const rounds = clear + landing.ends.length;
    let round = 0;
    const note = (since: number, gains: Float64Array) => {
      // Of what was measured at both ends of a hop the nearer.
      const { course } = 2 * round > rounds ? landing.last : here;
      const far = sums.map((sum, k) => sum + gains[k]);
      if (round++ > 0) ledger.add(time + since, far, course);
    };
    const gone = map.travel(state, rounds, (at, since, gains) => {
      note(since, gains);
      for (const [g, { offset }] of gauges.entries())
        offer(g, peakOf(here, at, g) + offset, time + since + here.peaks[g].offset);
      return true;
    });
    note(gone.ends[rounds - 1], gone.sums);
    hops++;
    modes = repeating.remember();
    here = landing.last;
    stray = landing.stray;
    state = gone.state.map((value, i) => (roles[i].kind === "returns" ? here.end[i] : value));
    sums = sums.map((sum, k) => sum + gone.sums[k]);
    ends = [...ends, ...gone.ends.map((end) => time + end)];
    wanted = clear * Math.min(16, Math.max(0.5, 0.7 * Math.sqrt(HOP_ERROR / error)));
  }
  if (hops === 0) return why;
  const { period, events } = here;
  return { state, modes, sums, duration: ends[ends.length - 1], ends, period, events, peaks, ledger };

  /** Rounds that can be gone before any gauge comes near a level above it. */
  function clearRounds(round: TriedRound, from: Float64Array, most: number): number {
    const above = gauges.map(({ levels }, g) => {
      const [peak, low] = [peakOf(round, from, g), sumOf(g, from)];
      return { peak: next(levels, peak), low: next(levels, low) };
    });
    let count = 0;
    const reach = map.travel(from, most + LONGEST_LANDING + LEFT_OVER, (at) => {
      count++;
      return gauges.every((_, g) => peakOf(round, at, g) < above[g].peak && sumOf(g, at) < above[g].low);
    });
    return reach.ends.length === most + LONGEST_LANDING + LEFT_OVER
      ? most
      : Math.min(most, count - 1 - LONGEST_LANDING - LEFT_OVER);
  }

  /** Whether a level is passed in these rounds, or was in the last two before them: the run goes through that itself. */
  function passing({ rounds, last: after }: Landing): boolean {
    const before = rounds[0];
    return gauges.some(({ levels }, g) => {
      const [a, b] = [peakOf(before, before.start, g), peakOf(after, after.start, g)];
      const [low, high] = [sumOf(g, before.start), sumOf(g, after.start)];
      return next(levels, a - 2 * Math.abs(b - a)) <= b || next(levels, low - 2 * Math.abs(high - low)) <= high;
    });
  }

  function passed(before: TriedRound, after: TriedRound): boolean {
    return gauges.some(({ levels }, g) => {
      const level = next(levels, peakOf(before, before.start, g));
      return peakOf(after, after.start, g) >= level;
    });
  }

  /** Peak, within a round that starts at `at`, of the sum that gauge g watches, judged by a round measured nearby. */
  function peakOf({ peaks: measured, start: from }: TriedRound, at: Float64Array, g: number): number {
    const { states, offset: probeOffset } = gauges[g];
    const { value, offset } = measured[g];
    return states.reduce((sum, i) => sum + stay(roles[i], offset) * (at[i] - from[i]), value - probeOffset);
  }

  function sumOf(g: number, at: Float64Array): number {
    return gauges[g].states.reduce((sum, i) => sum + at[i], 0);
  }

  function next(levels: readonly number[], value: number): number {
    const near = levels.map((level) => level - NEAR_LEVEL * Math.abs(level)).filter((level) => level > value);
    return Math.min(...near, Number.POSITIVE_INFINITY);
  }

  /** The largest relative change between two journeys over the same rounds. */
  function difference(a: Journey, b: Journey): number {
    let worst = Math.abs((a.ends.at(-1) ?? 0) / (b.ends.at(-1) ?? 1) - 1);
    for (let i = 0; i < roles.length; i++) {
      if (roles[i].kind === "returns") continue;
      const size = Math.max(Math.abs(a.state[i]), FLOOR * system.scales[i]);
      worst = Math.max(worst, Math.abs(a.state[i] - b.state[i]) / size);
    }
    return worst;
  }

  /** Integrates rounds, at least two, until the states that have to return do; all but the first teach the map. */
  function* settle(trial: RoundTrial): Generator<void, Landing | null> {
    const rounds: TriedRound[] = [];
    let best: Landing | null = null;
    while (rounds.length < LONGEST_LANDING) {
      const round = yield* trial.round();
      // What is no number would stay in the map.
      if (round === null || !round.end.every(Number.isFinite)) return null;
      rounds.push(round);
      const before = rounds.at(-2);
      if (before === undefined) continue;
      map.learn(round);
      best = {
        rounds,
        last: round,
        stray: strayOf(before, round),
        sums: total(rounds),
        ends: endsOf(rounds),
      };
      if (best.stray.rounds > ENOUGH_ROUNDS) break;
    }
    return best;
  }

  function strayOf(before: TriedRound, after: TriedRound): Stray {
    let worst: Stray = { reason: "", rounds: Number.POSITIVE_INFINITY };
    const [was, is] = [map.returns(before.start), map.returns(after.start)];
    for (let i = 0; i < roles.length; i++) {
      if (roles[i].kind !== "returns") continue;
      const by = after.end[i] - before.end[i] - (is.state[i] - was.state[i]);
      const rounds = roundsUntil(STRAY * Math.max(Math.abs(after.end[i]), system.scales[i]), by);
      if (rounds < worst.rounds) worst = { reason: strays(repeating.names[i], by), rounds };
    }
    for (const [k, remaining] of after.kept.entries()) {
      const rounds = roundsUntil(STRAY * after.period, remaining - before.kept[k] - (is.kept[k] - was.kept[k]));
      if (rounds < worst.rounds) worst = { reason: OUT_OF_STEP, rounds };
    }
    return worst;
  }
}

export const OUT_OF_STEP = "a timer does not keep step with the rounds";

export function strays(name: string, by: number): string {
  return `${name} does not return: it moves on by ${by.toPrecision(2)} a round`;
}

/** What is no number has strayed already. */
function roundsUntil(allowed: number, by: number): number {
  const rounds = allowed / Math.abs(by);
  return Number.isNaN(rounds) ? 0 : rounds;
}

interface Stray {
  readonly reason: string;
  /** Rounds until it has gone too far. */
  readonly rounds: number;
}

interface Landing {
  readonly rounds: readonly TriedRound[];
  readonly last: TriedRound;
  readonly stray: Stray;
  /** Of the rounds that the landing took. */
  readonly sums: Float64Array;
  readonly ends: readonly number[];
}

function total(rounds: readonly MeasuredRound[]): Float64Array {
  return rounds[0].sums.map((_, k) => rounds.reduce((sum, round) => sum + round.sums[k], 0));
}

function endsOf(rounds: readonly MeasuredRound[]): readonly number[] {
  let time = 0;
  return rounds.map(({ period }) => {
    time += period;
    return time;
  });
}
