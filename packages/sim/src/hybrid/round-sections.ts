import { STRAY, strays } from "./leap-plan.ts";
import type { Timer } from "./parts.ts";
import type { Repeating } from "./rounds-types.ts";
import type { HybridSystem, LoggedEvent } from "./types.ts";

/** Two kept numbers count as the same within this share. */
const SAME = 1e-9;
/** A state that nothing brings back stands still where it moves by no more than this share a round. */
const STILL = 1e-12;

/** How things stand just after an event at which rounds may begin. */
export interface Section {
  /** Number of events so far, and how many there were at the section before. */
  readonly count: number;
  readonly previous: number;
  readonly time: number;
  readonly state: Float64Array;
  readonly timers: readonly number[];
  readonly memory: readonly number[];
  /** Rounds in a row in which the same things happened. */
  readonly alike: number;
}

/** A section; `before` is where the same happened last. */
export function sectionAt(
  system: HybridSystem,
  repeating: Repeating,
  events: readonly LoggedEvent[],
  time: number,
  state: ArrayLike<number>,
  before: Section | undefined,
): Section {
  const count = events.length;
  return {
    count,
    previous: before?.count ?? count,
    time,
    state: Float64Array.from(state),
    timers: system.timers.map(({ remaining }) => remaining),
    memory: repeating.memory().map(({ value }) => value),
    alike: before !== undefined && sameEvents(events, before, count) ? before.alike + 1 : 0,
  };
}

/** Whether what happened since a section is what happened in the round before it. */
function sameEvents(events: readonly LoggedEvent[], { count, previous }: Section, now: number): boolean {
  if (now - count !== count - previous) return false;
  for (let k = 0; k < now - count; k++) {
    const [a, b] = [events[previous + k], events[count + k]];
    if (a.source !== b.source || a.code !== b.code) return false;
  }
  return true;
}

/** Timers that count down across rounds towards an instant of their own; null where one neither does that nor returns. */
export function absoluteTimers(timers: readonly Timer[], before: Section, now: Section): readonly Timer[] | null {
  const period = now.time - before.time;
  const absolute: Timer[] = [];
  for (const [k, timer] of timers.entries()) {
    const [was, is] = [before.timers[k], now.timers[k]];
    if (was === is || Math.abs(was - is) <= STRAY * period) continue;
    if (!(Math.abs(was - is - period) <= STRAY * period)) return null;
    absolute.push(timer);
  }
  return absolute;
}

/** What keeps a round from being like the last, in words; null where nothing does. */
export function obstacleBetween(
  system: HybridSystem,
  { names, roles, memory }: Repeating,
  before: Section,
  now: Section,
): string | null {
  for (const [k, { name, value }] of memory().entries()) {
    if (
      !Object.is(value, before.memory[k]) &&
      !(Math.abs(value - before.memory[k]) <= SAME * Math.max(1, Math.abs(value)))
    )
      return `${name} moves on by ${(value - before.memory[k]).toPrecision(2)} a round`;
  }
  let worst = 1;
  let which = -1;
  for (let i = 0; i < roles.length; i++) {
    const { kind } = roles[i];
    if (kind !== "returns" && kind !== "keeps") continue;
    const allowed = (kind === "keeps" ? STILL : STRAY) * Math.max(Math.abs(now.state[i]), system.scales[i]);
    const share = Math.abs(now.state[i] - before.state[i]) / allowed;
    // What is no number is no agreement.
    if (Number.isNaN(share)) return strays(names[i], share);
    if (share > worst) [worst, which] = [share, i];
  }
  return which < 0 ? null : strays(names[which], now.state[which] - before.state[which]);
}
