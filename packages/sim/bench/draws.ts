/** Seeded draws: the same seed gives the same draws for ever. */
export class Draws {
  private state: number;

  constructor(seed: number) {
    this.state = (seed * 7919 + 13) >>> 0;
  }

  /** mulberry32 by T. Ettinger, public domain. */
  unit(): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  chance = (share: number): boolean => this.unit() < share;
  between = (a: number, b: number): number => a + (b - a) * this.unit();
  /** Evenly in the logarithm. */
  decades = (a: number, b: number): number => a * (b / a) ** this.unit();
  one = <T>(...values: readonly T[]): T => values[Math.floor(this.unit() * values.length)];
  maybe = <T>(share: number, make: () => T): T | null => (this.chance(share) ? make() : null);
  times = (count: number, end: number): number[] =>
    Array.from({ length: count }, () => this.between(0, end)).sort((a, b) => a - b);
}
