import { describe, expect, test } from "vitest";
import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { leastSquares } from "../../../packages/sim/src/study/fit/least-squares.ts";
import { inverseOf, studentT, triangleOf } from "../../../packages/sim/src/study/fit/matrix.ts";

/** JᵀJ of columns. */
const normalMatrix = (columns: readonly Float64Array[]): number[][] =>
  columns.map((a) => columns.map((b) => a.reduce((sum, each, i) => sum + each * b[i]!, 0)));

interface Problem {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly model: (b: readonly number[], x: number) => number;
  readonly starts: readonly (readonly number[])[];
  readonly values: readonly number[];
  readonly deviations: readonly number[];
  readonly squares: number;
}

/**
 * NIST/ITL Statistical Reference Datasets, nonlinear regression (https://www.itl.nist.gov/div898/strd/nls/nls_main.shtml): data, starts and certified
 * values as published with BoxBOD.dat and MGH09.dat, both of the higher level of difficulty.
 */
const problems: readonly Problem[] = [
  {
    name: "BoxBOD",
    x: [1, 2, 3, 5, 7, 10],
    y: [109, 149, 149, 191, 213, 224],
    model: ([b1, b2], x) => b1! * (1 - Math.exp(-b2! * x)),
    starts: [
      [1, 1],
      [100, 0.75],
    ],
    values: [2.1380940889e2, 5.4723748542e-1],
    deviations: [1.2354515176e1, 1.0455993237e-1],
    squares: 1.1680088766e3,
  },
  {
    name: "MGH09",
    x: [4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625],
    y: [0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246],
    model: ([b1, b2, b3, b4], x) => (b1! * (x * x + x * b2!)) / (x * x + x * b3! + b4!),
    starts: [
      [25, 39, 41.5, 39],
      [0.25, 0.39, 0.415, 0.39],
    ],
    values: [1.9280693458e-1, 1.9128232873e-1, 1.2305650693e-1, 1.3606233068e-1],
    deviations: [1.1435312227e-2, 1.9633220911e-1, 8.0842031232e-2, 9.0025542308e-2],
    squares: 3.0750560385e-4,
  },
];

describe("problems with certified values (NIST StRD)", () => {
  test.each(
    problems.flatMap((each) => each.starts.map((start, k) => [`${each.name}, start ${k + 1}`, each, start] as const)),
  )(
    "%s: values and their standard deviations to six digits",
    async (_, { x, y, model, values, deviations, squares }, start) => {
      const found = await leastSquares(
        {
          residuals: (b) => Float64Array.from(x, (at, i) => model(b, at) - y[i]!),
          start,
          low: start.map(() => -1e4),
          high: start.map(() => 1e4),
          scale: values.map(Math.abs),
        },
        { tolerance: 1e-8, mostIterations: 2000, differences: [1e-6, 1e-6], central: true },
      );
      expect(found.isConverged).toBe(true);
      expect(found.cost / squares).toBeCloseTo(1, 9);
      const free = x.length - start.length;
      const covariance = inverseOf(normalMatrix(found.jacobian))!;
      for (const [k, value] of found.values.entries()) {
        expect(value / values[k]!).toBeCloseTo(1, 6);
        expect(Math.sqrt((covariance[k]![k]! * found.cost) / free) / deviations[k]!).toBeCloseTo(1, 5);
      }
    },
  );
});

test("Student's t as it is tabled (JCGM 100:2008, table G.2)", () => {
  for (const [free, t] of [
    // None left over counts as one.
    [0, 12.706],
    [1, 12.706],
    [2, 4.303],
    [4, 2.776],
    [7, 2.365],
    [20, 2.086],
    [1e6, 1.96],
  ] as const)
    expect(studentT(free)).toBeCloseTo(t, 2);
});

describe("closed forms", () => {
  const time = Array.from({ length: 400 }, (_, k) => k * 1e-5);
  const noisy = (model: (t: number) => number, noise: number, seed: number): number[] => {
    const gauss = normals(seed);
    return time.map((t) => model(t) + noise * gauss());
  };

  test("the time constant of a decay, with the standard error that its integrals give", async () => {
    const [height, tau, noise] = [12, 0.8e-3, 0.05];
    const data = noisy((t) => height * Math.exp(-t / tau), noise, 3);
    const found = await leastSquares({
      residuals: ([a, b]) => Float64Array.from(time, (t, i) => (a! * Math.exp(-t / b!) - data[i]!) / noise),
      start: [5, 2e-3],
      low: [0, 1e-5],
      high: [100, 1],
      scale: [5, 2e-3],
    });
    const covariance = inverseOf(normalMatrix(found.jacobian))!;
    // Normal matrix of A·e^(−t/τ) over 0…∞: ∫e^(−2t/τ) = τ/2, ∫t·e^(−2t/τ) = τ²/4, ∫t²·e^(−2t/τ) = τ³/4; sums by integrals, and 1 % for the end.
    const [aa, ab, bb] = [tau / 2, ((height / tau ** 2) * tau ** 2) / 4, ((height / tau ** 2) ** 2 * tau ** 3) / 4];
    const error = Math.sqrt((aa / (aa * bb - ab * ab)) * 1e-5) * noise;
    expect(Math.sqrt(covariance[1]![1]!) / error).toBeCloseTo(1, 1);
    expect(Math.abs(found.values[1]! - tau)).toBeLessThan(3 * error);
    expect(found.iterations).toBeLessThan(15);
  });

  test("frequency and decay of a ringing, with the bound of Cramér and Rao for the frequency", async () => {
    const [height, tau, omega, noise] = [2, 1, 2 * Math.PI * 4000, 0.05];
    const data = noisy((t) => height * Math.exp(-t / tau) * Math.cos(omega * t + 0.3), noise, 4);
    const found = await leastSquares({
      residuals: ([a, b, w, p]) =>
        Float64Array.from(time, (t, i) => (a! * Math.exp(-t * b!) * Math.cos(w! * t + p!) - data[i]!) / noise),
      start: [1, 100, 2 * Math.PI * 3950, 0],
      low: [0, -1e3, 1e3, -3],
      high: [10, 1e4, 1e5, 3],
      scale: [1, 10, 1e4, 1],
    });
    const covariance = inverseOf(normalMatrix(found.jacobian))!;
    // Rife and Boorstyn (IEEE Trans. Inf. Theory 20, 1974): var ω = 24·σ²/(A²·T²·N·(N² − 1)).
    const n = time.length;
    const bound = Math.sqrt((24 * noise ** 2) / (height ** 2 * 1e-10 * n * (n * n - 1)));
    expect(Math.sqrt(covariance[2]![2]!) / bound).toBeCloseTo(1, 1);
    expect(Math.abs(found.values[2]! - omega)).toBeLessThan(3 * bound);
  });
});

test("a value that is drawn out of its bounds stays at the bound, the others take their best beside it", async () => {
  const x = [0, 1, 2, 3, 4, 5];
  const found = await leastSquares({
    residuals: ([a, b]) => Float64Array.from(x, (at) => a! + b! * at - (1 + 2 * at)),
    start: [0, 0],
    low: [-5, 0],
    high: [5, 1.5],
    scale: [1, 1],
  });
  // With b = 1.5 the best a is the mean of 1 + 0.5·x: 2.25.
  expect(found.values[1]).toBe(1.5);
  expect(found.values[0]).toBeCloseTo(2.25, 4);
});

test("where nothing can be worked out it goes another way; at the start it says so", async () => {
  const problem = { start: [1], low: [0], high: [9], scale: [1] };
  const found = await leastSquares({
    ...problem,
    residuals: ([a]) => (a! > 4 ? null : Float64Array.of(a! ** 3 - 27, 0)),
  });
  expect(found.values[0]).toBeCloseTo(3, 4);
  await expect(leastSquares({ ...problem, residuals: () => null })).rejects.toThrow("at the start");
});

test("where all values stand at bounds that they are drawn beyond, or none makes a difference, there is nothing to do", async () => {
  const alone = { start: [1], low: [0], high: [2], scale: [1] };
  const stuck = await leastSquares({ ...alone, start: [9], residuals: ([a]) => Float64Array.of(a! - 5) });
  expect(stuck).toMatchObject({ values: [2], cost: 9, isConverged: false });
  const unheard = await leastSquares({ ...alone, residuals: () => Float64Array.of(3) });
  expect(unheard).toMatchObject({ values: [1], cost: 9 });
});

test("beside a value at which nothing can be worked out a derivative is taken to the other side alone", async () => {
  const problem = { start: [2], low: [0], high: [9], scale: [1] };
  const above = (b: readonly number[]) => (b[0]! > 2 ? null : Float64Array.of(3 * b[0]!));
  const alone = (b: readonly number[]) => (b[0]! === 2 ? Float64Array.of(6) : null);
  const options = { mostIterations: 0 };
  expect((await leastSquares({ ...problem, residuals: above }, options)).jacobian[0]![0]).toBeCloseTo(3, 9);
  expect((await leastSquares({ ...problem, residuals: alone }, options)).jacobian[0]![0]).toBe(0);
});

test("whoever ends it between two looks is heard at once", async () => {
  let looks = 0;
  const between = async (): Promise<void> => {
    if (++looks === 3) throw new Error("enough");
  };
  const run = leastSquares(
    { residuals: ([a]) => Float64Array.of(a! - 3, 0), start: [0], low: [0], high: [9], scale: [1] },
    { between },
  );
  await expect(run).rejects.toThrow("enough");
});

test("a matrix that is not positive definite has neither triangle nor inverse", () => {
  // Hilbert's of order 3, inverse known in whole numbers (Choi, American Mathematical Monthly 90, 1983: from memory).
  const hilbert = [0, 1, 2].map((i) => [0, 1, 2].map((j) => 1 / (i + j + 1)));
  const inverse = [
    [9, -36, 30],
    [-36, 192, -180],
    [30, -180, 180],
  ];
  for (const [i, row] of inverseOf(hilbert)!.entries())
    for (const [j, value] of row.entries()) expect(value).toBeCloseTo(inverse[i]![j]!, 9);
  expect(triangleOf(hilbert)).not.toBeNull();
  const [negative, singular, indefinite] = [
    [[-1]],
    [
      [1, 1],
      [1, 1],
    ],
    [
      [1, 2],
      [2, 1],
    ],
  ];
  for (const matrix of [negative, singular, indefinite, [[0]]]) {
    expect(triangleOf(matrix!)).toBeNull();
    expect(inverseOf(matrix!)).toBeNull();
  }
});
