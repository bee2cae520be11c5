/**
 * The right end of a bracket of the root of a continuous function that is ≤ 0 at `a` and > 0 at `b`: bisection with regula falsi
 * (Illinois), so that f(result) > 0 holds whatever the rounding.
 */
export function rootFromBelow(
  f: (x: number) => number,
  a: number,
  b: number,
  fa: number,
  fb: number,
  width: number,
): number {
  let [left, right, fl, fr] = [a, b, fa, fb];
  let side = 0;
  for (let i = 0; i < 200 && right - left > width; i++) {
    let x = fr > fl ? left - (fl * (right - left)) / (fr - fl) : 0.5 * (left + right);
    // A guess at the very edge would shrink the bracket by nothing.
    const margin = Math.min(0.5 * width, 0.25 * (right - left));
    // Against flat roots and steps, on which the secant creeps.
    if (i % 8 === 7 || (i > 24 && i % 2 === 1)) x = 0.5 * (left + right);
    x = Math.min(Math.max(x, left + margin), right - margin);
    if (!(x > left && x < right)) break;
    const fx = f(x);
    if (fx > 0) {
      right = x;
      fr = fx;
      if (side === 1) fl *= 0.5;
      side = 1;
    } else {
      left = x;
      fl = fx;
      if (side === -1) fr *= 0.5;
      side = -1;
    }
  }
  return right;
}

const GOLDEN = 0.5 * (3 - Math.sqrt(5));

/**
 * Where a smooth function has its largest value between `a` and `b`, to about `width`: parabolas through the best three points, and golden
 * section where they creep (Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5). `start` is where it is thought to be.
 */
export function largestWithin(
  f: (x: number) => number,
  a: number,
  b: number,
  width: number,
  start = a + GOLDEN * (b - a),
): { at: number; value: number } {
  let left = a;
  let right = b;
  let best = start;
  let second = start;
  let third = start;
  let fBest = f(best);
  let fSecond = fBest;
  let fThird = fBest;
  let step = 0;
  let before = 0;
  for (let i = 0; i < 100; i++) {
    const middle = 0.5 * (left + right);
    if (Math.abs(best - middle) + 0.5 * (right - left) <= width) break;
    let parabolic = false;
    if (Math.abs(before) > 0.5 * width) {
      const r = (best - second) * (fBest - fThird);
      const q = (best - third) * (fBest - fSecond);
      const numerator = (best - third) * q - (best - second) * r;
      const denominator = 2 * (q - r);
      const move = denominator === 0 ? Number.POSITIVE_INFINITY : -numerator / denominator;
      if (Math.abs(move) < Math.abs(0.5 * before) && best + move > left && best + move < right) {
        parabolic = true;
        before = step;
        step = move;
        const at = best + move;
        if (at - left < width || right - at < width) step = best < middle ? 0.5 * width : -0.5 * width;
      }
    }
    if (!parabolic) {
      before = best < middle ? right - best : left - best;
      step = GOLDEN * before;
    }
    const least = 0.5 * width;
    const at = Math.abs(step) >= least ? best + step : best + (step > 0 ? least : -least);
    if (!(at > left && at < right) || at === best) break;
    const value = f(at);
    if (value >= fBest) {
      if (at < best) right = best;
      else left = best;
      third = second;
      fThird = fSecond;
      second = best;
      fSecond = fBest;
      best = at;
      fBest = value;
    } else {
      if (at < best) left = at;
      else right = at;
      if (value >= fSecond || second === best) {
        third = second;
        fThird = fSecond;
        second = at;
        fSecond = value;
      } else if (value >= fThird || third === best || third === second) {
        third = at;
        fThird = value;
      }
    }
  }
  return { at: best, value: fBest };
}
