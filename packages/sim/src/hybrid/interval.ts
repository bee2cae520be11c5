import type { Step } from "../ode/types.ts";
import { type Vector, zeros } from "../ode/vector.ts";
import type { HybridSystem } from "./types.ts";

/** Gauss-Legendre nodes and weights on 0…1, exact to degree 5 (Abramowitz & Stegun, table 25.4). */
const NODES = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const WEIGHTS = [5 / 18, 8 / 18, 5 / 18] as const;

/** What an interval needs to know of a system. */
export type Observable = Pick<HybridSystem, "size" | "probeCount" | "flowCount" | "observe" | "probes" | "flows">;

/**
 * A piece of a step, seen through the system: probes at its ends and at three points inside, integrals over it. All guards, watches
 * and integrals share these five looks, so watching costs no steps.
 */
export class Interval {
  from = 0;
  to = 0;
  /** Times of the five looks. */
  readonly times = zeros(5);
  /** Probes at the five looks. */
  readonly looks: number[][];
  readonly flowLooks: number[][];
  /** Smallest and largest of each probe at the five looks, once `bound` was called. */
  readonly low: number[];
  readonly high: number[];
  /** Integral of every flow over the piece, once `integrate` was called. */
  readonly integrals: number[];
  private readonly system: Observable;
  /** The state observed last. */
  readonly state: number[];
  private readonly scratch: number[];
  private readonly flowScratch: number[];
  private step: Step | null = null;

  constructor(system: Observable) {
    this.system = system;
    this.looks = Array.from({ length: 5 }, () => zeros(system.probeCount));
    this.flowLooks = Array.from({ length: 3 }, () => zeros(system.flowCount));
    this.low = zeros(system.probeCount);
    this.high = zeros(system.probeCount);
    this.integrals = zeros(system.flowCount);
    this.state = zeros(system.size);
    this.scratch = zeros(system.probeCount);
    this.flowScratch = zeros(system.flowCount);
  }

  /** Sets the piece of `step` from `from` to `to`; the looks are taken one by one with `look`. */
  open(step: Step, from: number, to: number): void {
    this.step = step;
    this.from = from;
    this.to = to;
    this.times[0] = from;
    for (let j = 0; j < 3; j++) this.times[j + 1] = from + NODES[j] * (to - from);
    this.times[4] = to;
  }

  /** Takes look j (0…4); the system stays observed there. */
  look(j: number): void {
    this.observe(this.times[j]);
    this.system.probes(this.looks[j]);
    if (j > 0 && j < 4) this.system.flows(this.flowLooks[j - 1]);
  }

  /** All looks are taken: integrates the flows. */
  integrate(): void {
    const { integrals, flowLooks } = this;
    const a = flowLooks[0];
    const b = flowLooks[1];
    const c = flowLooks[2];
    const h = this.to - this.from;
    const outer = h * WEIGHTS[0];
    const inner = h * WEIGHTS[1];
    for (let f = 0; f < integrals.length; f++) integrals[f] = outer * (a[f] + c[f]) + inner * b[f];
  }

  /** All looks are taken: integrals of every probe and of its square over the piece. */
  moments(): { readonly length: number; readonly sums: number[]; readonly squares: number[] } {
    const length = this.to - this.from;
    const [, a, b, c] = this.looks;
    const outer = length * WEIGHTS[0];
    const inner = length * WEIGHTS[1];
    return {
      length,
      sums: a.map((value, p) => outer * (value + c[p]) + inner * b[p]),
      squares: a.map((value, p) => outer * (value ** 2 + c[p] ** 2) + inner * b[p] ** 2),
    };
  }

  /** All looks are taken: finds what each probe's values lie between, so that most watches need no more than that. */
  bound(): void {
    const { low, high, looks } = this;
    const a = looks[0];
    const b = looks[1];
    const c = looks[2];
    const d = looks[3];
    const e = looks[4];
    for (let p = 0; p < low.length; p++) {
      let least = a[p];
      let most = least;
      const v1 = b[p];
      if (v1 < least) least = v1;
      else if (v1 > most) most = v1;
      const v2 = c[p];
      if (v2 < least) least = v2;
      else if (v2 > most) most = v2;
      const v3 = d[p];
      if (v3 < least) least = v3;
      else if (v3 > most) most = v3;
      const v4 = e[p];
      if (v4 < least) least = v4;
      else if (v4 > most) most = v4;
      low[p] = least;
      high[p] = most;
    }
  }

  /** The start of this piece shows what the end of the last one showed, unless something jumped. */
  setStart(probes: Vector): void {
    const [first] = this.looks;
    for (let p = 0; p < first.length; p++) first[p] = probes[p];
  }

  /** Observes the system at any time inside. */
  observe(t: number): number[] {
    this.step?.interpolate(t, this.state);
    this.system.observe(t, this.state);
    return this.state;
  }

  /** One probe at any time inside. */
  probeAt(t: number, probe: number): number {
    this.observe(t);
    this.system.probes(this.scratch);
    return this.scratch[probe];
  }

  /** Integral of one flow from the start of the piece to `t`. */
  flowUntil(t: number, flow: number): number {
    let sum = 0;
    for (let j = 0; j < 3; j++) {
      this.observe(this.from + NODES[j] * (t - this.from));
      this.system.flows(this.flowScratch);
      sum += WEIGHTS[j] * this.flowScratch[flow];
    }
    return sum * (t - this.from);
  }

  /** For integrals of the probes between two times inside: `take` gets each look and its weight, s. */
  lookThrough(from: number, to: number, take: (probes: Vector, weight: number) => void): void {
    const whole = from === this.from && to === this.to;
    for (let j = 0; j < 3; j++) {
      if (!whole) {
        this.observe(from + NODES[j] * (to - from));
        this.system.probes(this.scratch);
      }
      take(whole ? this.looks[j + 1] : this.scratch, WEIGHTS[j] * (to - from));
    }
  }
}
