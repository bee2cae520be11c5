export interface Movement {
  readonly aim: number;
  readonly end: number;
  readonly slope: number;
}

/** The voltage a regulator aims at: moves with a slope towards an end, times a start ramp. Time is local to the segment. */
export class SetPoint {
  private level: number = 0;
  private slope = 0;
  private end: number = 0;
  private rampTime = 0;
  private rampElapsed = 0;

  constructor(level: number) {
    this.level = level;
    this.end = level;
  }

  /** Starts to move; returns how long it will take, s. */
  move(end: number, slew: number): number {
    this.end = end;
    this.slope = end < this.level ? -slew : slew;
    return Math.abs(end - this.level) / slew;
  }

  arrive(): void {
    this.level = this.end;
    this.slope = 0;
  }

  /** Starts a ramp from zero; a time of 0 means at once. */
  ramp(time: number): void {
    this.rampTime = time;
    this.rampElapsed = 0;
  }

  endRamp(): void {
    this.rampTime = 0;
  }

  /** Where it is at the start of the segment, but for a start ramp. */
  get aim(): number {
    return this.level;
  }

  /** Where it is, where it goes and at which slope, V/s; null while it stays. */
  movement(t: number): Movement | null {
    const slope = this.slopeAt(t);
    return slope === 0 ? null : { aim: this.value(t), end: this.end, slope };
  }

  value(t: number): number {
    return (this.level + this.slope * t) * this.share(t);
  }

  slopeAt(t: number): number {
    const byRamp = this.rampTime > 0 ? (this.level + this.slope * t) / this.rampTime : 0;
    return this.slope * this.share(t) + byRamp;
  }

  shift(elapsed: number): void {
    this.level += this.slope * elapsed;
    this.rampElapsed += elapsed;
  }

  private share(t: number): number {
    return this.rampTime > 0 ? (this.rampElapsed + t) / this.rampTime : 1;
  }
}
