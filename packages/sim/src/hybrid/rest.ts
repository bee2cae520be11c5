import { Growth } from "../ode/growth.ts";
import { add, copy, type Vector, zeros } from "../ode/vector.ts";
import type { HybridSystem } from "./types.ts";

/** A state may drift by this share of its size until the end and still counts as at rest. */
const SMALLEST_DRIFT = 1e-6;

/** Steps between two looks for rest while they do not grow, and by how much they may grow before the next look. */
const STEPS = 4;
const GROWTH = 2;

/**
 * When to look for rest: a look costs an evaluation, so not after every step. Steps that grow tell that something is dying away, and a few such
 * steps may reach far beyond the moment at which nothing moved any more.
 */
export class RestLooks {
  /** How far each state still moves until the end, once nothing moves. */
  readonly drift: number[];
  private readonly ahead: number[];
  private steps = 0;
  private last = Number.POSITIVE_INFINITY;
  private readonly system: HybridSystem;
  private readonly growth: Growth | null;

  constructor(system: HybridSystem) {
    this.system = system;
    this.drift = zeros(system.size);
    this.ahead = zeros(system.size);
    this.growth = system.feeding === undefined ? null : new Growth(system);
  }

  restart(): void {
    this.steps = 0;
    this.last = Number.POSITIVE_INFINITY;
  }

  /** Whether to look after an accepted step of this length. */
  due(step: number): boolean {
    this.last = Math.min(this.last, step);
    if (++this.steps < STEPS && step < GROWTH * this.last) return false;
    this.steps = 0;
    this.last = step;
    return true;
  }

  /**
   * Nothing moves any more: |x'|·(time left) is below a millionth of each state's size. Then `drift` holds how far each still moves until the end:
   * totals are continued at their present rates, and what is fed and not turned into heat goes into the states.
   */
  nothingMoves(local: number, y: Vector, left: number): boolean {
    const { system, drift } = this;
    if (!(left > 0) || system.restless()) return false;
    system.rates(local, y, drift);
    for (let i = 0; i < y.length; i++) {
      drift[i] *= left;
      if (!(Math.abs(drift[i]) < SMALLEST_DRIFT * Math.max(Math.abs(y[i]), system.scales[i]))) return false;
    }
    // Nothing is so quiet that it would stay where the smallest disturbance grows.
    return !this.growth?.within(left, local, y) && !this.driftMeetsGuard(local, y);
  }

  /**
   * Whether a guard lies on the way of what still drifts: where the equations change, a drift of a millionth may go on as a steep rise. The system is
   * left observed there, and where that is so at `y` again.
   */
  private driftMeetsGuard(local: number, y: Vector): boolean {
    const { system, drift, ahead } = this;
    copy(y, ahead);
    add(drift, ahead);
    system.observe(local, ahead);
    const isMet = system.guards.some((guard) => guard.active && guard.value() > 0);
    if (isMet) system.observe(local, y);
    return isMet;
  }
}
