// The site's matrices against those of the package that the least-squares library names: the same to the last bit.
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { beforeAll, expect, it } from "vitest";
import * as ours from "../../../packages/notebooks/src/base/least-squares/matrix.ts";
import { root } from "../../ground/files.ts";

type Kit = typeof ours;
let theirs: Kit;

beforeAll(async () => {
  const library = createRequire(join(root, "packages/sim/package.json")).resolve("ml-levenberg-marquardt");
  theirs = (await import(pathToFileURL(createRequire(library).resolve("ml-matrix")).href)) as unknown as Kit;
});

/** Numbers between −1 and 1, the same each time. */
function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

const listed = (matrix: ours.Matrix): number[] =>
  Array.from({ length: matrix.rows * matrix.columns }, (_, k) =>
    matrix.get(Math.floor(k / matrix.columns), k % matrix.columns),
  );

/** What the library does with matrices in one of its steps, and in the inverse it falls back to. */
function step(
  { Matrix, CholeskyDecomposition, inverse }: Kit,
  size: number,
  points: number,
  damping: number,
): number[] {
  const next = noise(97 * size + points);
  const gradient = Matrix.zeros(size, points);
  const left = new Matrix(points, 1);
  const weights = Array.from({ length: points }, () => 1.5 + next());
  for (let j = 0; j < points; j++) {
    for (let i = 0; i < size; i++) gradient.set(i, j, next());
    left.set(j, 0, next());
  }
  const hessian = gradient.mmulByTranspose(weights);
  for (let i = 0; i < size; i++) hessian.set(i, i, hessian.get(i, i) + damping);
  const slope = gradient.mmul(left.scale("row", { scale: weights }));
  const cholesky = new CholeskyDecomposition(hessian);
  const moved = cholesky.isPositiveDefinite() ? cholesky.solve(slope) : inverse(hessian).mmul(slope);
  const promised = moved.transpose().mmul(moved.mul(damping).add(slope));
  return [cholesky.isPositiveDefinite() ? 1 : 0, ...[moved, inverse(hessian), promised].flatMap(listed)];
}

it.each([
  [1, 5, 1e-3],
  [4, 40, 1e-3],
  [7, 300, 1e-7],
  [12, 60, 10],
  // Taken off the diagonal: no positive one any more, and rows are exchanged.
  [5, 12, -40],
])("%i values, %i points, damping %f: the same numbers", (size, points, damping) => {
  const found = step(ours, size, points, damping);
  expect(found[0]).toBe(damping > 0 ? 1 : 0);
  expect(found).toEqual(step(theirs, size, points, damping));
});

it("refuses what the package refuses", () => {
  for (const { Matrix, CholeskyDecomposition, inverse } of [ours, theirs]) {
    const crooked = Matrix.zeros(2, 2);
    crooked.set(0, 1, 1);
    expect(() => new CholeskyDecomposition(crooked)).toThrow("Matrix is not symmetric");
    expect(() => inverse(Matrix.zeros(2, 2))).toThrow("LU matrix is singular");
  }
});
