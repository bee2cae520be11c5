import type { WaveformData } from "@railfault/sim/figures";

type Range = readonly [number, number];

/** Shorter than this no figure can name its ticks, s. */
const shortest = 1e-9;

/** The run's first and last instant, s. */
export function wholeRun({ time }: WaveformData): Range {
  return [time[0], time[time.length - 1]];
}

/** A range put into the run, its ends in order; null where nothing is left of it. */
export function within(data: WaveformData, [a, b]: Range): Range | null {
  const [first, last] = wholeRun(data);
  const from = Math.min(Math.max(Math.min(a, b), first), last);
  const to = Math.min(Math.max(Math.max(a, b), first), last);
  return to - from >= shortest ? [from, to] : null;
}

/** An event's surroundings, s on each side. */
export function around(data: WaveformData, event: number, half: number): Range | null {
  const { time } = data.events[event];
  return within(data, [time - half, time + half]);
}

/** Of a run, the share from which on the whole shows the fault and what follows apart by itself. */
const apart = 0.02;

/** Where nothing follows an event, s. */
const usual = 5e-5;

/**
 * Where a reader wants to look first. Where the first important event follows soon after the fault: from the fault until a while after
 * it. Where hours lie between them: around that event, as close as tells it from the one that follows. Without such an event: the whole.
 */
export function suggestedRange(data: WaveformData): Range {
  const { events, faultTime } = data;
  const whole = wholeRun(data);
  const first = events.find(({ important, time }) => important && time > faultTime);
  if (first === undefined) return whole;
  const delay = first.time - faultTime;
  if (delay <= apart * (whole[1] - whole[0])) {
    return within(data, [faultTime - 0.5 * delay, first.time + 3 * delay]) ?? whole;
  }
  const next = events.find(({ time }) => time > first.time + shortest);
  const gap = Math.min(next === undefined ? usual : next.time - first.time, delay);
  return within(data, [first.time - 0.5 * gap, first.time + 2 * gap]) ?? whole;
}

/**
 * As close to an event as tells it from its neighbours: a fifth of the time since the fault on each side, 10 µs at least. An event that is `seen` in
 * a closer look already is shown in half of that.
 */
export function closeTo(data: WaveformData, event: number, seen: Range): Range {
  const { time } = data.events[event];
  const delay = Math.abs(time - data.faultTime);
  const half = time < seen[0] || time > seen[1] ? delay : Math.min(delay, (seen[1] - seen[0]) / 0.8);
  return around(data, event, Math.max(1e-5, 0.2 * half)) ?? suggestedRange(data);
}
