/** A step back by more than so many usual steps is the beginning of another recording, wherever it leads. */
const FAR = 1000;
/** Jitter of a recorder's clock goes back by no more than so many. */
const JITTER = 3;
/** Nor does it go back by so many and by half of all that was recorded. */
const FEW = 10;

/**
 * Rows in which a time begins anew: it falls to about the first one, over half of what was recorded so far, or further than any jitter.
 *
 * @param time s, as written
 * @param step the usual one, s
 */
export function restartsOf(time: Float64Array, step: number): number[] {
  const found: number[] = [];
  let first = 0;
  let latest = time[0];
  for (let i = 1; i < time.length; i++) {
    const fall = latest - time[i];
    // What is one step off by its written digits is one step.
    const steps = fall / step + 1e-6;
    const toFirst = time[i] <= time[first] + 1.5 * step;
    const isAnew =
      steps > FAR ||
      (steps >= 2 && time[i] === time[first]) ||
      (toFirst && steps > JITTER) ||
      (steps > FEW && 2 * fall > latest - time[first]);
    if (isAnew) {
      found.push(i);
      first = i;
      latest = time[i];
    } else if (time[i] > latest || Number.isNaN(latest)) latest = time[i];
  }
  return found;
}
