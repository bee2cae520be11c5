import type { ExcursionWatch } from "./watch.ts";

/** Two stretches count as one where what is between them is below this share of the window: roundings of the time. */
const SAME = 1e-9;

/** The most time that something is beyond a level within any stretch of `window` seconds. */
export class MostWithin {
  readonly window: number;
  most = 0;
  /** Stretches beyond the level that reach into the window that ends with the last of them. */
  private spans: { from: number; to: number }[] = [];

  constructor(window: number) {
    this.window = window;
  }

  /** Hears of everything that an excursion is beyond its level; `base` is the time of the start of the segment. */
  follow(excursion: ExcursionWatch, base: () => number): void {
    excursion.onStay = (from, to) => this.add(base() + from, base() + to);
  }

  /** A stretch beyond the level, not before the last one. The fullest window ends where a stretch does. */
  add(from: number, to: number): void {
    const start = to - this.window;
    const last = this.spans.at(-1);
    if (last !== undefined && from - last.to <= SAME * this.window) last.to = to;
    else this.spans.push({ from, to });
    this.spans = this.spans.filter((span) => span.to > start);
    const sum = this.spans.reduce((time, span) => time + span.to - Math.max(span.from, start), 0);
    this.most = Math.max(this.most, sum);
  }

  /** Rounds alike with the last one, which took `period`, went by without a look: it began at `from`, and each ended at one of `ends`. */
  repeat(from: number, period: number, ends: readonly number[]): void {
    const round = this.spans
      .filter(({ to }) => to > from - period)
      .map((span) => ({ from: Math.max(span.from, from - period) - from, to: span.to - from }));
    const far = this.window + 2 * period;
    const last = ends.at(-1) ?? from;
    // Between a window's length from both ends nothing new is to be seen.
    const seen = ends.filter((end) => end < from + far || end > last - far);
    for (const end of seen) for (const span of round) this.add(end + span.from, end + span.to);
  }
}
