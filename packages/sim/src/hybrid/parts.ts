import type { Vector } from "../ode/vector.ts";
/** The value of a guard that cannot be met before a mode changes: until then nobody asks it again. */
export const ASLEEP = Number.NEGATIVE_INFINITY;

/**
 * A condition watched while a mode lasts: it is met where its value is above zero. Values are read after the system has observed a
 * state, so they may use whatever the system derived from it.
 */
export class Guard {
  active = false;
  readonly value: () => number;
  readonly action: (y: Vector) => void;

  constructor(value: () => number, action: (y: Vector) => void) {
    this.value = value;
    this.action = action;
  }
}

/** A deadline; while idle it is infinitely far away. */
export class Timer {
  remaining = Number.POSITIVE_INFINITY;
  readonly action: (y: Vector) => void;

  constructor(action: (y: Vector) => void) {
    this.action = action;
  }

  start(duration: number): void {
    this.remaining = duration;
  }

  stop(): void {
    this.remaining = Number.POSITIVE_INFINITY;
  }

  get running(): boolean {
    return this.remaining < Number.POSITIVE_INFINITY;
  }
}

/**
 * "The condition holds without a break for a time": two guards of opposite sign and a timer between them. Only one of the guards is active
 * at once, so a root at which both touch zero does not chatter.
 */
export class Hold {
  readonly guards: readonly [Guard, Guard];
  readonly timer: Timer;

  /** `value` above zero is the condition; `delay` in s; `action` runs when it has held that long. */
  constructor(value: () => number, delay: number, action: (y: Vector) => void) {
    const met = new Guard(value, () => {
      met.active = false;
      broken.active = true;
      this.timer.start(delay);
    });
    const broken = new Guard(
      () => -value(),
      () => this.enable(),
    );
    this.guards = [met, broken];
    this.timer = new Timer((y) => {
      this.disable();
      action(y);
    });
  }

  /** Begins to watch; a condition already met counts from now. */
  enable(): void {
    this.disable();
    this.guards[0].active = true;
  }

  disable(): void {
    this.timer.stop();
    this.guards[0].active = false;
    this.guards[1].active = false;
  }

  get enabled(): boolean {
    return this.guards[0].active || this.guards[1].active;
  }
}
