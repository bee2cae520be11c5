import { describe, expect, it } from "vitest";
import { SparsePattern } from "../../packages/sim/src/ode/sparse.ts";
import { apply, type Matrix, random, solveDense, zeros } from "../support/dense.ts";

/** A random star: branches with inner couplings, each tied to one of a few hub unknowns at the end; `algebraic` ones carry no shift. */
function star(seed: number) {
  const next = random(seed);
  const pick = (n: number) => Math.floor(next() * n);
  const branches = 1 + pick(6);
  const hub = 1 + pick(3);
  const sizes = Array.from({ length: branches }, () => 1 + pick(6));
  const size = sizes.reduce((a, b) => a + b, 0) + hub;
  const hubStart = size - hub;
  const J: Matrix = zeros(size);
  const value = () => (next() - 0.5) * 10 ** (6 * next() - 3);
  let start = 0;
  for (const length of sizes) {
    for (let i = start; i < start + length; i++) {
      J[i][i] = -1 - Math.abs(value());
      for (let k = 0; k < 2; k++) J[i][start + pick(length)] += value();
    }
    const [port, joint] = [start + pick(length), hubStart + pick(hub)];
    J[port][joint] = value();
    J[joint][port] = value();
    start += length;
  }
  for (let h = hubStart; h < size; h++) {
    J[h][h] = -3 - Math.abs(value());
    if (h > hubStart) {
      J[h][h - 1] = value();
      J[h - 1][h] = value();
    }
  }
  const shifted = Array.from({ length: size }, (_, i) => i < hubStart || next() < 0.5);
  return { size, J, shifted, next };
}

function compiled({ size, J, shifted }: ReturnType<typeof star>, order: number[]) {
  const pattern = new SparsePattern(size);
  J.forEach((row, i) => {
    row.forEach((value, j) => {
      if (value !== 0) pattern.slot(i, j);
    });
  });
  const elimination = pattern.compile(order, shifted);
  pattern.entries.forEach(({ row, column }, s) => {
    elimination.values[s] = J[row][column];
  });
  return elimination;
}

describe("sparse elimination", () => {
  it.each(Array.from({ length: 40 }, (_, k) => k + 1))("solves star %i as a dense solver does", (seed) => {
    const made = star(seed);
    const order = Array.from({ length: made.size }, (_, i) => i);
    const elimination = compiled(made, order);
    for (const shift of [3e7, 50]) {
      expect(elimination.factor(shift)).toBe(true);
      const matrix = made.J.map((row, i) => row.map((v, j) => (i === j && made.shifted[i] ? shift : 0) - v));
      const b = Float64Array.from({ length: made.size }, () => made.next() - 0.5);
      const x = b.slice();
      elimination.solve(x);
      const dense = solveDense(matrix, b);
      const scale = Math.max(...dense.map(Math.abs));
      for (let i = 0; i < made.size; i++) expect(Math.abs(x[i] - dense[i])).toBeLessThan(1e-9 * scale);
      const residual = apply(matrix, x).map((value, i) => value - b[i]);
      const norm = Math.max(...matrix.map((row) => row.reduce((sum, v) => sum + Math.abs(v), 0)));
      expect(Math.max(...residual.map(Math.abs))).toBeLessThan(1e-9 * norm * scale);
    }
  });

  it("does not depend on the order in which branches are listed", () => {
    const made = star(7);
    const forward = Array.from({ length: made.size }, (_, i) => i);
    const b = Float64Array.from({ length: made.size }, (_, i) => Math.sin(i + 1));
    const solutions = [forward, [...forward].reverse()].map((order) => {
      const elimination = compiled(made, order);
      elimination.factor(200);
      const x = b.slice();
      elimination.solve(x);
      return x;
    });
    for (let i = 0; i < made.size; i++) expect(solutions[0][i]).toBeCloseTo(solutions[1][i], 8);
  });

  it("costs in proportion to the number of branches when the hub comes last", () => {
    const entries = (branches: number) => {
      const pattern = new SparsePattern(3 * branches + 1);
      const hub = 3 * branches;
      for (let k = 0; k < branches; k++) {
        for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) pattern.slot(3 * k + i, 3 * k + j);
        pattern.slot(3 * k, hub);
        pattern.slot(hub, 3 * k);
      }
      const order = Array.from({ length: hub + 1 }, (_, i) => i);
      return pattern.compile(
        order,
        order.map(() => true),
      ).stored;
    };
    const [four, eight] = [entries(4) - 1, entries(8) - 1];
    expect(eight).toBe(2 * four);
  });

  it("says where a pivot vanishes or is no number, and gives the same slot for the same entry", () => {
    const pattern = new SparsePattern(2);
    const slot = pattern.slot(0, 1);
    expect(pattern.slot(0, 1)).toBe(slot);
    const one = pattern.slot(0, 0);
    const elimination = pattern.compile([0, 1], [true, true]);
    elimination.values[one] = 5;
    expect(elimination.factor(5)).toBe(false);
    expect(elimination.factor(6)).toBe(true);
    elimination.values[one] = Number.NaN;
    expect(elimination.factor(6)).toBe(false);
  });
});
