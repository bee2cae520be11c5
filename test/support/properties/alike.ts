import type { Run } from "../../../packages/sim/src/model/result.ts";
import { type RunOptions, simulate } from "../../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";

/** What a run came to, for a comparison with another: its events in order, and its voltages' peaks and ends. */
export interface Story {
  readonly events: readonly { readonly name: string; readonly time: number; readonly sincePrevious: number }[];
  readonly volts: Readonly<Record<string, number>>;
}

/** Events nearer to each other have no order that means anything, s. */
const INSTANT = 1e-9;

/**
 * @param rename what a source or load is called instead
 * @param begin when the story begins, s after the start of the run
 */
export function storyOf(run: Run, rename: (name: string) => string = (name) => name, begin = 0): Story {
  const events: { name: string; time: number; sincePrevious: number }[] = [];
  let waited = -begin;
  for (const { subject, kind, time, sincePrevious } of run.events) {
    const name = `${rename(subject.owner)}/${subject.part}: ${kind}`;
    waited += sincePrevious;
    // What happens to several equal parts at one instant happens once.
    if (waited <= INSTANT && events.some((event) => time - event.time <= INSTANT && event.name === name)) continue;
    events.push({ name, time, sincePrevious: waited });
    waited = 0;
  }
  const peaks = [...run.loads, ...run.sources].map(({ name, peak }) => [`peak of ${rename(name)}`, peak.value]);
  return { events: inOrder(events), volts: Object.fromEntries(peaks) };
}

/** Events of one instant in the order of the alphabet. */
function inOrder(events: Story["events"]): Story["events"] {
  const out: { name: string; time: number; sincePrevious: number }[] = [];
  for (let k = 0; k < events.length; ) {
    let end = k + 1;
    while (end < events.length && events[end].sincePrevious <= INSTANT) end++;
    const instant = events.slice(k, end);
    const names = instant.map(({ name }) => name).sort();
    out.push(...instant.map((event, j) => ({ ...event, name: names[j] })));
    k = end;
  }
  return out;
}

/** Where two stories differ by more than the project's bar: 0.1 % or 1 µs since the event before, 0.1 % or 10 mV; null where they do not. */
export function difference(one: Story, other: Story): string | null {
  const count = Math.max(one.events.length, other.events.length);
  for (let k = 0; k < count; k++) {
    const [a, b] = [one.events[k], other.events[k]];
    if (a?.name !== b?.name) return `event ${k}: ${a?.name ?? "none"} against ${b?.name ?? "none"}`;
    if (Math.abs(a.sincePrevious - b.sincePrevious) > Math.max(1e-3 * b.sincePrevious, 1e-6))
      return `event ${k}, ${a.name}: after ${a.sincePrevious} s against ${b.sincePrevious} s`;
  }
  for (const [name, volts] of Object.entries(one.volts)) {
    const expected = other.volts[name];
    if (!(Math.abs(volts - expected) <= Math.max(1e-3 * Math.abs(expected), 0.01)))
      return `${name}: ${volts} V against ${expected} V`;
  }
  return null;
}

/** Decides where two runs at the usual tolerance differ: chaos makes of 1e-9 what anybody can see. */
export const DECIDES = 1e-11;
export const USUAL = 1e-6;

/** How often two runs were nearer to a decision than the usual tolerance, and agreed at the one that decides. */
export interface CloseCalls {
  count: number;
}

/** A line, and what is to be known to tell its story as that of another. */
export interface Told {
  readonly scenario: Scenario;
  readonly rename?: (name: string) => string;
  readonly begin?: number;
  readonly options?: RunOptions;
}

/**
 * Where two lines that should tell the same story do not; nothing where they do. A level missed by less than the usual tolerance may go either
 * way, and some lines are chaotic: then a much tighter tolerance decides, and it is counted.
 */
export function otherStory(one: Told, other: Told, closeCalls: CloseCalls): string[] {
  const run = ({ scenario, rename, begin, options = {} }: Told, tolerance: number) =>
    storyOf(simulate(scenario, { record: false, leaps: false, ...options, tolerance }), rename, begin);
  if (difference(run(one, USUAL), run(other, USUAL)) === null) return [];
  const tight = difference(run(one, DECIDES), run(other, DECIDES));
  if (tight !== null) return [tight];
  closeCalls.count++;
  return [];
}
