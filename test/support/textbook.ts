import type { Matrix } from "./dense.ts";
import type { Problem } from "./system.ts";

export interface TextbookProblem extends Problem {
  readonly name: string;
  readonly start: readonly number[];
  readonly end: number;
  /** Published solution at the end. */
  readonly solution: readonly number[];
}

/** Hairer & Wanner, Solving Ordinary Differential Equations II, section IV.1 (1.4); solution at t = 40 published with it. */
export const robertson: TextbookProblem = {
  name: "Robertson's reaction to t = 40",
  size: 3,
  start: [1, 0, 0],
  end: 40,
  solution: [0.715827068719, 9.18553476456e-6, 0.284163745746],
  f: (_t, y) => {
    const [a, b, c] = [0.04 * y[0], 1e4 * y[1] * y[2], 3e7 * y[1] * y[1]];
    return [b - a, a - b - c, c];
  },
  jacobian: (_t, y) => [
    [-0.04, 1e4 * y[2], 1e4 * y[1]],
    [0.04, -1e4 * y[2] - 6e7 * y[1], -1e4 * y[1]],
    [0, 6e7 * y[1], 0],
  ],
};

const EPSILON = 1e-6;
/** Hairer & Wanner II, section IV.10: van der Pol with epsilon = 1e-6; solution of their test set at t = 1 (after one jump). */
export const vanDerPol: TextbookProblem = {
  name: "van der Pol, epsilon = 1e-6, to t = 1",
  size: 2,
  start: [2, 0],
  end: 1,
  solution: [-1.86364625480813, 0.753543086543546],
  f: (_t, y) => [y[1], ((1 - y[0] * y[0]) * y[1] - y[0]) / EPSILON],
  jacobian: (_t, y): Matrix => [
    [0, 1],
    [(-2 * y[0] * y[1] - 1) / EPSILON, (1 - y[0] * y[0]) / EPSILON],
  ],
};

const LAMBDA = -1e6;
/** Prothero & Robinson 1974, in Hairer & Wanner II, section IV.15: y' = lambda·(y − phi) + phi', solution phi = sin(t + 1). */
export const protheroRobinson: TextbookProblem = {
  name: "Prothero and Robinson, lambda = −1e6, to t = 10",
  size: 1,
  start: [Math.sin(1)],
  end: 10,
  solution: [Math.sin(11)],
  f: (t, y) => [LAMBDA * (y[0] - Math.sin(t + 1)) + Math.cos(t + 1)],
  jacobian: () => [[LAMBDA]],
  timeDerivative: (t) => [-LAMBDA * Math.cos(t + 1) - Math.sin(t + 1)],
};

const MU = 0.012277471;
/** Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I, section II.0 (0.1): a periodic orbit between earth and moon. */
export const arenstorf: TextbookProblem = {
  name: "Arenstorf's orbit, once around",
  size: 4,
  start: [0.994, 0, 0, -2.0015851063790824],
  end: 17.065216560157964,
  solution: [0.994, 0, 0, -2.0015851063790824],
  f: (_t, y) => {
    const [x, z, vx, vz] = [y[0], y[1], y[2], y[3]];
    const d1 = ((x + MU) ** 2 + z * z) ** 1.5;
    const d2 = ((x - 1 + MU) ** 2 + z * z) ** 1.5;
    return [
      vx,
      vz,
      x + 2 * vz - ((1 - MU) * (x + MU)) / d1 - (MU * (x - 1 + MU)) / d2,
      z - 2 * vx - ((1 - MU) * z) / d1 - (MU * z) / d2,
    ];
  },
  jacobian: null,
};

/** Hairer, Nørsett & Wanner I, section II.4 (4.15): the Brusselator, with its solution at t = 20. */
export const brusselator: TextbookProblem = {
  name: "Brusselator to t = 20",
  size: 2,
  start: [1.5, 3],
  end: 20,
  solution: [0.4986370712683478, 4.596780349452011],
  f: (_t, y) => {
    const reaction = y[0] * y[0] * y[1];
    return [1 + reaction - 4 * y[0], 3 * y[0] - reaction];
  },
  jacobian: (_t, y) => [
    [2 * y[0] * y[1] - 4, y[0] * y[0]],
    [3 - 2 * y[0] * y[1], -y[0] * y[0]],
  ],
};
