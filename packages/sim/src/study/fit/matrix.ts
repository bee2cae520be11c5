/** A symmetric matrix as rows. */
export type Matrix = readonly (readonly number[])[];

/**
 * The lower triangle whose product with its own transpose is a symmetric, positive definite matrix (Cholesky).
 *
 * @returns null where it is none, or nearly singular after its diagonal was scaled to one
 */
export function triangleOf(matrix: Matrix): number[][] | null {
  const n = matrix.length;
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]));
  if (!scale.every(Number.isFinite)) return null;
  const factor: number[][] = [];
  for (let i = 0; i < n; i++) {
    factor.push(new Array<number>(n).fill(0));
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i][j] * scale[i] * scale[j];
      for (let k = 0; k < j; k++) sum -= factor[i][k] * factor[j][k];
      if (i === j && !(sum > 1e-14)) return null;
      factor[i][j] = i === j ? Math.sqrt(sum) : sum / factor[j][j];
    }
  }
  return factor.map((row, i) => row.map((each) => each / scale[i]));
}

/** The inverse of a symmetric, positive definite matrix; null where it is none, or nearly singular. */
export function inverseOf(matrix: Matrix): number[][] | null {
  const n = matrix.length;
  const factor = triangleOf(matrix);
  if (factor === null) return null;
  return Array.from({ length: n }, (_, c) => {
    const y = new Array<number>(n).fill(0);
    for (let i = 0; i < n; i++) {
      let sum = i === c ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= factor[i][k] * y[k];
      y[i] = sum / factor[i][i];
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = y[i];
      for (let k = i + 1; k < n; k++) sum -= factor[k][i] * y[k];
      y[i] = sum / factor[i][i];
    }
    return y;
  });
}

/** Student's t that 97.5 % of all lie below, by the expansion in 1/ν (Abramowitz and Stegun, 26.7.5); below 1 ‰ off from four degrees of freedom on. */
export function studentT(free: number): number {
  if (!(free >= 3)) return free >= 2 ? 4.303 : 12.706;
  const z = 1.959963985;
  const g = [
    (z ** 3 + z) / 4,
    (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96,
    (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384,
    (79 * z ** 9 + 776 * z ** 7 + 1482 * z ** 5 - 1920 * z ** 3 - 945 * z) / 92160,
  ];
  return g.reduce((sum, term, k) => sum + term / free ** (k + 1), z);
}
