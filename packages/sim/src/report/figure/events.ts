import { median } from "d3";
import { groupDigits } from "../../units/index.ts";
import { unbroken } from "./text.ts";
import { formatTime } from "./time-format.ts";
import type { FigureEvent } from "./types.ts";

/** One line of the list of events: a single event, or all repetitions of one. */
export interface ListedEvent {
  readonly number: number;
  readonly time: number;
  /** Since the fault; `+3.1 ms` since the event listed before, where both would read the same. */
  readonly when: string;
  readonly text: string;
  /** Times of the repetitions after the first; empty for a single event. */
  readonly repetitions: readonly number[];
  /** Which of the data's events it tells. */
  readonly indices: readonly number[];
}

export interface EventList {
  readonly listed: readonly ListedEvent[];
  /** How many events are in view but have no line. */
  readonly omitted: number;
}

/** From this many of one kind on they are told as one. */
export const repeatedFrom = 4;

/**
 * What the list of events says: at most `most` lines in order of time. Repetitions are told as one line with their
 * number and period; where lines are short the unimportant go first, then the latest.
 */
export function listEvents(
  events: readonly FigureEvent[],
  faultTime: number,
  range: readonly [number, number],
  most: number,
): EventList {
  const inView = events
    .map((event, index) => ({ ...event, index }))
    .filter((event) => event.time >= range[0] && event.time <= range[1]);
  const groups = grouped(inView);
  const kept = [...groups]
    .sort((a, b) => rank(b) - rank(a) || a[0].time - b[0].time)
    .slice(0, most)
    .sort((a, b) => a[0].time - b[0].time);
  const told = kept.reduce((sum, group) => sum + group.length, 0);
  const listed = kept.map((group, i) => describe(group, i + 1, faultTime));
  return { listed: listed.map((event, i) => apart(event, listed[i - 1])), omitted: inView.length - told };
}

/** The one that the picture is about, then what decided the outcome, then what is important, then the rest. */
function rank(group: readonly FigureEvent[]): number {
  if (group.some(({ subject }) => subject === true)) return 3;
  return group[0].decisive === true ? 2 : Number(group[0].important);
}

/** After hours two events lie in the same minute: the second is then told by the time between them. */
function apart(event: ListedEvent, before: ListedEvent | undefined): ListedEvent {
  if (before === undefined || before.when !== event.when || !(event.time > before.time)) return event;
  return { ...event, when: `+${formatTime(event.time - before.time)}` };
}

interface Indexed extends FigureEvent {
  readonly index: number;
}

function grouped(events: readonly Indexed[]): Indexed[][] {
  const byLabel = new Map<string, Indexed[]>();
  for (const event of events) {
    const same = byLabel.get(event.label);
    if (same === undefined) byLabel.set(event.label, [event]);
    else same.push(event);
  }
  const groups = [...byLabel.values()].flatMap((same) =>
    same.length >= repeatedFrom ? [same] : same.map((event) => [event]),
  );
  return groups.sort((a, b) => a[0].time - b[0].time);
}

function describe(group: readonly Indexed[], number: number, faultTime: number): ListedEvent {
  const [first, ...rest] = group;
  const away = first.time - faultTime;
  // A clock that stopped on its way, at a zero of the mains, comes to the instant of the fault but for its last digits.
  const since = Math.abs(away) <= 4 * Number.EPSILON * faultTime ? 0 : away;
  const when = since < 0 ? `−${formatTime(-since)}` : formatTime(since);
  const text = rest.length === 0 ? first.label : `${first.label}, ${repeated(group, faultTime)}`;
  const indices = group.map(({ index }) => index);
  return { number, time: first.time, when, text, repetitions: rest.map((event) => event.time), indices };
}

function repeated(group: readonly FigureEvent[], faultTime: number): string {
  const periods = group.slice(1).map((event, i) => event.time - group[i].time);
  const usual = median(periods) ?? 0;
  // A first period often differs (the supply was still charged): a rhythm is what nearly all of them keep.
  const regular = periods.filter((period) => Math.abs(period - usual) <= 0.2 * usual).length >= 0.8 * periods.length;
  const rhythm = regular && usual > 0 ? ` about every ${unbroken(formatTime(usual, 2))}` : "";
  return `${groupDigits(String(group.length))}\u00a0times${rhythm}, last at ${unbroken(formatTime(group[group.length - 1].time - faultTime))}`;
}

/** Numbered marks that would touch are drawn as one: `2–4`. */
export interface Mark {
  readonly x: number;
  /** Numbers of the first and the last event it stands for. */
  readonly first: number;
  readonly last: number;
  readonly label: string;
  readonly width: number;
}

/** Places the marks of a list between `left` and `right`; `widthOf` gives a mark's width from its label. */
export function placeMarks(
  positions: readonly number[],
  left: number,
  right: number,
  widthOf: (label: string) => number,
): Mark[] {
  let clusters = positions.map((x, i) => ({ first: i + 1, last: i + 1, low: x, high: x }));
  const markOf = (cluster: (typeof clusters)[number]): Mark => {
    const { first, last } = cluster;
    const label = first === last ? `${first}` : `${first}–${last}`;
    const width = widthOf(label);
    const middle = (cluster.low + cluster.high) / 2;
    return { x: Math.min(Math.max(middle, left + width / 2), right - width / 2), first, last, label, width };
  };
  for (let merged = true; merged; ) {
    merged = false;
    const next: typeof clusters = [];
    for (const cluster of clusters) {
      const previous = next[next.length - 1];
      if (previous && touching(markOf(previous), markOf(cluster))) {
        next[next.length - 1] = { ...previous, last: cluster.last, high: Math.max(previous.high, cluster.high) };
        merged = true;
      } else next.push(cluster);
    }
    clusters = next;
  }
  return clusters.map(markOf);
}

function touching(a: Mark, b: Mark): boolean {
  return b.x - b.width / 2 < a.x + a.width / 2 + 2;
}
