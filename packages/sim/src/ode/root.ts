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

/** Where a smooth function has its largest value between `a` and `b`, by golden section, to about `width`. */
export function largestWithin(
  f: (x: number) => number,
  a: number,
  b: number,
  width: number,
): { at: number; value: number } {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [left, right] = [a, b];
  let x1 = right - golden * (right - left);
  let x2 = left + golden * (right - left);
  let f1 = f(x1);
  let f2 = f(x2);
  while (right - left > width) {
    if (f1 >= f2) {
      right = x2;
      x2 = x1;
      f2 = f1;
      x1 = right - golden * (right - left);
      if (!(x1 > left && x1 < x2)) break;
      f1 = f(x1);
    } else {
      left = x1;
      x1 = x2;
      f1 = f2;
      x2 = left + golden * (right - left);
      if (!(x2 > x1 && x2 < right)) break;
      f2 = f(x2);
    }
  }
  return f1 >= f2 ? { at: x1, value: f1 } : { at: x2, value: f2 };
}
