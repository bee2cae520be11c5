/*
 * M. J. Wichura, "Algorithm AS 241: the percentage points of the normal distribution", Applied Statistics 37 (1988), PPND16:
 * relative accuracy about 1e-16. Its coefficients, as a double holds them.
 */
const A = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
  33430.57558358813, 2509.0809287301227,
];
const B = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
  5226.495278852546,
];
const C = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
  0.022723844989269184, 0.0007745450142783414,
];
const D = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
  0.0005475938084995345, 1.0507500716444169e-9,
];
const E = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
  0.0012426609473880784, 0.000027115555687434876, 2.0103343992922881e-7,
];
const F = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 0.000018463183175100548,
  1.421511758316446e-7, 2.0442631033899397e-15,
];

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, each) => sum * x + each, 0);

/**
 * The value that a standard normal distribution stays below with a given probability.
 *
 * @param probability between 0 and 1, both left out
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(probability: number): number {
  const q = probability - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(A, r)) / polynomial(B, r);
  }
  const tail = Math.sqrt(-Math.log(q < 0 ? probability : 1 - probability));
  const value =
    tail <= 5
      ? polynomial(C, tail - 1.6) / polynomial(D, tail - 1.6)
      : polynomial(E, tail - 5) / polynomial(F, tail - 5);
  return q < 0 ? -value : value;
}

/** Probability of a standard normal value below −3. */
const BELOW_THREE = 0.0013498980316300946;

/**
 * The same for a normal distribution that is cut off at three standard deviations to either side.
 *
 * @returns between −3 and 3
 */
export function cutNormalQuantile(probability: number): number {
  const value = normalQuantile(BELOW_THREE + probability * (1 - 2 * BELOW_THREE));
  return Math.min(3, Math.max(-3, value));
}
