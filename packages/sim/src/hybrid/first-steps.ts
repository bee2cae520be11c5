/**
 * What a segment's first step came to, by the change of mode that began it: a change that has been before most likely starts as it did then,
 * and a guess that is far off costs as many rejected steps as all the rest of a short segment.
 */
export class FirstSteps {
  private readonly known = new Map<number, number>();
  private change = 0;
  private first = false;

  /** A change of mode begins. */
  open(): void {
    this.change = 0;
  }

  /** A guard or timer acted in it; each has a number of its own. */
  acted(actor: number): void {
    this.change = (this.change * 1009 + actor + 1) % 2 ** 40;
  }

  /** The change is over: the longest step to start with by what is known of it, infinite where it has not been before. */
  close(): number {
    this.first = true;
    return this.known.get(this.change) ?? Number.POSITIVE_INFINITY;
  }

  /** A step was accepted; `next` is the one the integrator would try now. */
  accepted(next: number): void {
    if (this.first) this.known.set(this.change, next);
    this.first = false;
  }
}
