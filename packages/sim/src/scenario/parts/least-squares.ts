/**
 * Parameters that make the sum of squared residuals smallest, by Levenberg and Marquardt's damped steps with forward
 * differences. Deterministic. `residuals` must return finite numbers, the same count for every argument.
 */
export function leastSquares(
  residuals: (parameters: readonly number[]) => number[],
  start: readonly number[],
  steps = 60,
): { readonly parameters: readonly number[]; readonly cost: number } {
  let parameters = [...start];
  let now = residuals(parameters);
  let cost = squares(now);
  let damping = 1e-2;
  for (let step = 0; step < steps; step++) {
    const columns = parameters.map((value, j) => {
      const delta = 1e-6 * Math.max(1, Math.abs(value));
      const moved = residuals(parameters.map((other, i) => (i === j ? value + delta : other)));
      return moved.map((r, i) => (r - now[i]) / delta);
    });
    const gradient = columns.map((column) => dot(column, now));
    const normal = columns.map((a) => columns.map((b) => dot(a, b)));
    let improved = false;
    for (let attempt = 0; attempt < 12 && !improved; attempt++) {
      const damped = normal.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) + 1e-12 : v)));
      const move = solve(damped, gradient);
      const trial = parameters.map((value, i) => value - move[i]);
      const next = residuals(trial);
      const nextCost = squares(next);
      if (nextCost < cost) {
        improved = cost - nextCost > 1e-10 * cost;
        parameters = trial;
        now = next;
        cost = nextCost;
        damping = Math.max(damping / 5, 1e-9);
        break;
      }
      damping *= 4;
    }
    if (!improved) break;
  }
  return { parameters, cost };
}

function squares(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v * v, 0);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, v, i) => sum + v * b[i], 0);
}

/** Gauss elimination with row exchange; the matrix is damped, so it is never singular. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i]]);
  for (let p = 0; p < n; p++) {
    let best = p;
    for (let i = p + 1; i < n; i++) if (Math.abs(rows[i][p]) > Math.abs(rows[best][p])) best = i;
    const pivotRow = rows[best];
    rows[best] = rows[p];
    rows[p] = pivotRow;
    for (let i = p + 1; i < n; i++) {
      const row = rows[i];
      const factor = row[p] / pivotRow[p];
      for (let j = p; j <= n; j++) row[j] = row[j] - factor * pivotRow[j];
    }
  }
  const x = right.map(() => 0);
  for (let i = n - 1; i >= 0; i--) {
    const row = rows[i];
    let sum = row[n];
    for (let j = i + 1; j < n; j++) sum -= row[j] * x[j];
    x[i] = sum / row[i];
  }
  return x;
}
