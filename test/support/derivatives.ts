import type { Line } from "../../packages/sim/src/model/line.ts";
import type { Vector } from "../../packages/sim/src/ode/vector.ts";
import { type Matrix, solveDense, zeros } from "./dense.ts";

/** The Jacobian of the states that the line holds: the node voltages eliminated from its extended matrix. */
export function heldJacobian(line: Line, t: number, y: Vector): Matrix {
  line.rates(t, y, new Float64Array(line.size));
  line.linearize(t, y);
  const entries = line.entriesWithValues();
  const total = 1 + Math.max(...entries.map(({ row, column }) => Math.max(row, column)), line.size - 1);
  const extended = zeros(total);
  for (const { row, column, value } of entries) extended[row][column] += value;
  const n = line.size;
  const nodes = extended.slice(n).map((row) => row.slice(n));
  const J = extended.slice(0, n).map((row) => row.slice(0, n));
  for (let j = 0; j < n; j++) {
    const column = extended.slice(n).map((row) => -row[j]);
    if (column.every((value) => value === 0)) continue;
    const voltages = solveDense(nodes, column);
    for (let i = 0; i < n; i++) for (let k = 0; k < total - n; k++) J[i][j] += extended[i][n + k] * voltages[k];
  }
  return J;
}

/** Central differences of the rates, and how large their own rounding may be. */
export function differences(line: Line, t: number, y: Vector): { J: Matrix; noise: number[] } {
  const n = line.size;
  const J = zeros(n);
  const noise = new Array<number>(n).fill(0);
  const [up, down] = [new Float64Array(n), new Float64Array(n)];
  for (let j = 0; j < n; j++) {
    const h = 1e-4 * Math.max(line.scales[j], Math.abs(y[j]) * 0.1);
    const kept = y[j];
    y[j] = kept + h;
    line.rates(t, y, up);
    y[j] = kept - h;
    line.rates(t, y, down);
    y[j] = kept;
    for (let i = 0; i < n; i++) {
      J[i][j] = (up[i] - down[i]) / (2 * h);
      noise[i] = Math.max(noise[i], (1e-14 * (Math.abs(up[i]) + Math.abs(down[i]))) / h);
    }
  }
  return { J, noise };
}

/** Differences of the rates over time at a fixed state. */
export function timeDifferences(line: Line, t: number, y: Vector, h: number): Float64Array {
  const [up, down] = [new Float64Array(line.size), new Float64Array(line.size)];
  line.rates(t + h, y, up);
  line.rates(t - h, y, down);
  return up.map((value, i) => (value - down[i]) / (2 * h));
}
