import type { Run, RunEvent } from "../model/result.ts";
import type { Comparer } from "./comparison.ts";
import { type Fields, fields, number, text } from "./fields.ts";

/** An event in the words of the reference. */
function eventName({ kind, subject }: RunEvent): string {
  const { part, owner } = subject;
  switch (part) {
    case "line":
      return kind;
    case "source":
    case "load":
      return `${owner}: ${kind}`;
    case "main fuse":
      return `board fuse: ${kind}`;
    case "in-line fuse":
      return `${owner} lead fuse: ${kind}`;
    case "crowbar":
      return `SCR ${kind}`;
    case "series switch":
      return `switch ${kind}`;
    default:
      return `${owner} ${part} ${kind}`.trim();
  }
}

interface Timed {
  readonly what: string;
  readonly t: number;
  readonly since: number;
}

/** Events of one instant may come in any order: they are put in the order of their names. */
function ordered(events: readonly Timed[]): readonly Timed[] {
  const out = [...events];
  const together = (a: Timed, b: Timed) => Math.abs(a.t - b.t) <= 1e-12 * Math.max(1, Math.abs(a.t));
  for (let from = 0; from < out.length; ) {
    let to = from + 1;
    while (to < out.length && together(out[from], out[to])) to++;
    const group = out.slice(from, to).sort((a, b) => a.what.localeCompare(b.what));
    out.splice(from, to - from, ...group);
    from = to;
  }
  return out;
}

/** Compares the sequence of events first, then each event's time since the one before. */
export function compareEvents(comparer: Comparer, expected: readonly unknown[], run: Run): void {
  const wanted = ordered(
    expected.map((value, i) => {
      const event = fields(value, `events[${i}]`);
      const before = i > 0 ? number(fields(expected[i - 1], "events"), "t") : 0;
      return { what: text(event, "what"), t: number(event, "t"), since: number(event, "t") - before };
    }),
  );
  const found = ordered(
    run.events.map((event) => ({ what: eventName(event), t: event.time, since: event.sincePrevious })),
  );
  comparer.same(
    "events in order",
    wanted.map((event) => event.what),
    found.map((event) => event.what),
  );
  wanted.forEach((event, i) => {
    comparer.time(`event ${i} (${event.what}), time since the one before`, event.since, found[i]?.since);
  });
}

/**
 * Whether the sample at the start only repeats the next one, taken later, although the values move: a slip in the making of the file, told
 * by its own operating point. Such a sample is no expectation for time 0.
 */
export function repeatsTheNext(expected: readonly unknown[], i: number): boolean {
  if (i + 1 >= expected.length) return false;
  const [one, next] = [fields(expected[i], "samples"), fields(expected[i + 1], "samples")];
  if (one.event !== -1 || one.dt !== 0 || next.event !== -1 || next.dt === 0) return false;
  const slopes = Object.values(fields(one.slope, "slope")).flat();
  const moves = slopes.some((slope) => typeof slope === "number" && Math.abs(slope) > 0);
  return moves && SAMPLE_FLOORS.every(([key]) => JSON.stringify(one[key]) === JSON.stringify(next[key]));
}

/** Compares the samples, each at its delay after its event. */
export function compareSamples(comparer: Comparer, expected: readonly unknown[], run: Run, names: SampleNames): void {
  const found = new Map(run.samples.map((sample) => [`${sample.event}/${sample.delay}`, sample]));
  expected.forEach((value, i) => {
    if (repeatsTheNext(expected, i)) {
      comparer.leaveOut(
        `sample ${i}: it repeats the values of the next one, taken later, although they move; the operating point stands for it`,
      );
      return;
    }
    const sample = fields(value, `samples[${i}]`);
    const slope = fields(sample.slope, `samples[${i}].slope`);
    const delay = number(sample, "dt");
    const mine = found.get(`${number(sample, "event")}/${delay}`);
    const compare = (key: string, floor: number, column: string | null, want: unknown, rate: unknown) => {
      const extra = typeof rate === "number" ? Math.abs(rate) * comparer.accuracy.relative * delay : 0;
      const got = column === null ? undefined : mine?.values[column];
      comparer.value(`sample ${i} (event ${sample.event} + ${delay} s) ${key}`, want, got, floor, extra);
    };
    for (const [key, floor] of SAMPLE_FLOORS) {
      if (sample[key] === undefined) continue;
      const columns = names[key];
      const wanted: unknown = sample[key];
      const rates: unknown = (slope as Fields)[key];
      if (Array.isArray(wanted)) {
        wanted.forEach((want, k) => {
          compare(`${key}[${k}]`, floor, (columns as readonly string[])[k] ?? null, want, (rates as unknown[])?.[k]);
        });
      } else {
        compare(key, floor, columns as string | null, wanted, rates);
      }
    }
  });
}

const SAMPLE_FLOORS = [
  ["v_line", 0.01],
  ["v_guarded", 0.01],
  ["v_load", 0.01],
  ["v_feed", 0.01],
  ["i_feed", 0.01],
  ["i_scr", 0.01],
  ["T_j", 0.1],
] as const;

/** Trace columns behind the keys of a sample. */
export type SampleNames = Readonly<Record<(typeof SAMPLE_FLOORS)[number][0], string | null | readonly string[]>>;
