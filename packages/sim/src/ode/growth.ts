import { Eigenvalues } from "./eigenvalues.ts";
import type { OdeSystem } from "./types.ts";
import { type Vector, zeros } from "./vector.ts";

/** A mode grows where its rate is more than this share of its speed |λ|: less is not told from rounding. */
const LEAST_GROWTH = 1e-6;
/** How many times faster than the shift a mode may be and still be known well enough. */
const FAR = 100;
const MOST_LOOKS = 4;
/** By how much, as a power of e, a disturbance may grow and still count as none. */
const UNNOTICED = 1;
/**
 * |λ|·h of the longest step that follows a growing mode, with the fifth root of Re λ/|λ|: on the imaginary axis both Rosenbrock methods here damp
 * by the sixth power of |λ|·h. Then what a step makes of the mode is at least nine tenths of its growth; a test holds that.
 */
const FOLLOWED = 2;
/** Accepted steps, and growth of what feeds, after which the modes are looked at again. */
const STEPS = 32;
const MORE = 1.1;

/**
 * Finds which modes of a system grow by themselves, where it says that something in it feeds them. An L-stable step damps what is fast, also
 * what should grow: only short ones follow it. Nothing is allocated after construction.
 */
export class Growth {
  /** |λ| of the fastest mode that grows, 1/s; 0 where none does. */
  speed: number = 0;
  /** Real and imaginary part, both positive, of the one that grows most, 1/s. */
  rate: number = 0;
  swing: number = 0;
  private longest: number = Number.POSITIVE_INFINITY;
  private judged: number = 0;
  private steps = 0;
  private readonly system: OdeSystem;
  private readonly eigenvalues: Eigenvalues;
  private readonly column: number[];

  constructor(system: OdeSystem) {
    this.system = system;
    this.eigenvalues = new Eigenvalues(system.size);
    this.column = zeros(system.size);
  }

  /** The longest step that follows what grows, s; asked before each step, after `linearize`. `step` is the one that is wanted. */
  longestStep(fresh: boolean, step: number): number {
    const feeding = this.system.feeding?.() ?? 0;
    if (!(feeding > 0)) {
      this.judged = 0;
      return Number.POSITIVE_INFINITY;
    }
    if (fresh || feeding > MORE * this.judged || ++this.steps >= STEPS) {
      this.judged = feeding;
      this.steps = 0;
      this.look(1 / step);
    }
    return this.longest;
  }

  /** Whether at (t, y) a disturbance grows by more than is overlooked within a time > 0, s. What was linearized and factored is lost. */
  within(time: number, t: number, y: Vector): boolean {
    const { system, column } = this;
    if (system.feeding === undefined) return false;
    system.rates(t, y, column);
    system.linearize(t, y);
    this.forget();
    if (system.feeding() > 0) this.look(1 / time);
    return this.rate * time > UNNOTICED;
  }

  /**
   * An eigenvalue λ of J is one of (shift·I − J)⁻¹, 1/(shift − λ): modes of about the shift's speed are known best, those far beyond it are looked at
   * again.
   */
  private look(shift: number): void {
    for (let k = 0; k < MOST_LOOKS; k++) {
      if (!this.modes(shift) || !(this.speed > FAR * shift)) return;
      shift = this.speed;
    }
  }

  private forget(): void {
    this.speed = 0;
    this.rate = 0;
    this.swing = 0;
    this.longest = Number.POSITIVE_INFINITY;
  }

  private modes(shift: number): boolean {
    const { system, eigenvalues, column } = this;
    const { size, matrix, real, imaginary } = eigenvalues;
    this.forget();
    if (!system.factor(shift)) return false;
    for (let j = 0; j < size; j++) {
      unit(j, column);
      system.solve(column);
      for (let i = 0; i < size; i++) matrix[i * size + j] = shift * column[i];
    }
    if (!eigenvalues.find()) return false;
    for (let k = 0; k < size; k++) {
      const square = real[k] * real[k] + imaginary[k] * imaginary[k];
      const rate = shift * (1 - real[k] / square);
      const swing = (shift * Math.abs(imaginary[k])) / square;
      const speed = Math.hypot(rate, swing);
      if (!(rate > LEAST_GROWTH * speed && speed < Number.POSITIVE_INFINITY)) continue;
      this.speed = Math.max(this.speed, speed);
      if (rate > this.rate) {
        this.rate = rate;
        this.swing = swing;
      }
      this.longest = Math.min(this.longest, (FOLLOWED * (rate / speed) ** 0.2) / speed);
    }
    return true;
  }
}

function unit(place: number, out: Vector): void {
  for (let k = 0; k < out.length; k++) out[k] = 0;
  out[place] = 1;
}
