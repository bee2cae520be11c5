import { describe, expect, it } from "vitest";
import { rodas4, rodas5p, type Tableau } from "../../packages/sim/src/ode/tableau.ts";
import { apply, inverse, type Matrix, multiply, solveDense, zeros } from "../support/dense.ts";

/**
 * The tableaux are kept in the form that saves multiplications with the Jacobian: u = Gamma·k. Back in the form of the theory
 * (Hairer & Wanner, Solving Ordinary Differential Equations II, section IV.7) with alpha = a·Gamma, Gamma = (I/gamma − C)⁻¹, b = m·Gamma,
 * beta = alpha + Gamma their order conditions are polynomial equations.
 */
function standardForm(tableau: Tableau) {
  const s = tableau.c.length;
  const square = (rows: readonly (readonly number[])[]): Matrix =>
    zeros(s).map((row, i) => row.map((_, j) => rows[i][j] ?? 0));
  const minusC = square(tableau.C).map((row, i) => row.map((value, j) => (i === j ? 1 / tableau.gamma : 0) - value));
  const Gamma = inverse(minusC);
  const alpha = multiply(square(tableau.a), Gamma);
  const m = [...(tableau.a[s - 1] ?? []), 1];
  const b = multiply([m], Gamma)[0];
  const beta = alpha.map((row, i) => row.map((value, j) => value + Gamma[i][j]));
  return { s, alpha, Gamma, b, beta };
}

const dot = (a: readonly number[], b: readonly number[]) => a.reduce((sum, value, i) => sum + value * b[i], 0);
const times = (a: readonly number[], b: readonly number[]) => a.map((value, i) => value * b[i]);

/** Left and right sides of the conditions up to order 5 (Hairer & Wanner II, table 7.1; trees written as products of alpha and beta). */
function orderConditions(tableau: Tableau): { name: string; order: number; left: number; right: number }[] {
  const { alpha, beta, b, s } = standardForm(tableau);
  const one = new Array<number>(s).fill(1);
  const c = apply(alpha, one);
  const e = apply(beta, one);
  const A = (x: readonly number[]) => apply(alpha, x);
  const B = (x: readonly number[]) => apply(beta, x);
  const c2 = times(c, c);
  const conditions: [number, string, number[], number][] = [
    [1, "y", one, 1],
    [2, "f'f", e, 1 / 2],
    [3, "f''ff", c2, 1 / 3],
    [3, "f'f'f", B(e), 1 / 6],
    [4, "f'''fff", times(c2, c), 1 / 4],
    [4, "f''(f, f'f)", times(c, A(e)), 1 / 8],
    [4, "f'f''ff", B(c2), 1 / 12],
    [4, "f'f'f'f", B(B(e)), 1 / 24],
    [5, "f4", times(c2, c2), 1 / 5],
    [5, "f'''(f, f, f'f)", times(c2, A(e)), 1 / 10],
    [5, "f''(f'f, f'f)", times(A(e), A(e)), 1 / 20],
    [5, "f''(f, f''ff)", times(c, A(c2)), 1 / 15],
    [5, "f''(f, f'f'f)", times(c, A(B(e))), 1 / 30],
    [5, "f'f'''fff", B(times(c2, c)), 1 / 20],
    [5, "f'f''(f, f'f)", B(times(c, A(e))), 1 / 40],
    [5, "f'f'f''ff", B(B(c2)), 1 / 60],
    [5, "f'f'f'f'f", B(B(B(e))), 1 / 120],
  ];
  return conditions.map(([order, name, x, right]) => ({ order, name, left: dot(b, x), right }));
}

describe.each([rodas4, rodas5p])("$name as data", (tableau) => {
  it.each(orderConditions(tableau).filter(({ order }) => order <= tableau.order))(
    "meets the condition of $name, order $order",
    ({ left, right }) => {
      expect(Math.abs(left - right)).toBeLessThan(2e-11);
    },
  );

  it("fails a condition one order higher", () => {
    // Order 4 fails one of order 5; of order 6 the bushy tree speaks for all.
    const { alpha, b, s } = standardForm(tableau);
    const c = apply(alpha, new Array<number>(s).fill(1));
    const higher =
      tableau.order === 4
        ? orderConditions(tableau)
            .filter(({ order }) => order === 5)
            .map(({ left, right }) => Math.abs(left - right))
        : [
            Math.abs(
              dot(
                b,
                c.map((x) => x ** 5),
              ) -
                1 / 6,
            ),
            Math.abs(
              dot(
                b,
                c.map((x, i) => x ** 3 * apply(alpha, c)[i]),
              ) -
                1 / 12,
            ),
          ];
    expect(Math.max(...higher)).toBeGreaterThan(1e-6);
  });

  it("has c and d that are the row sums of alpha and gamma", () => {
    const { alpha, Gamma, s } = standardForm(tableau);
    const one = new Array<number>(s).fill(1);
    apply(alpha, one).forEach((sum, i) => {
      expect(Math.abs(sum - tableau.c[i])).toBeLessThan(2e-12);
    });
    apply(Gamma, one).forEach((sum, i) => {
      expect(Math.abs(sum - tableau.d[i])).toBeLessThan(2e-12);
    });
  });

  it("is stiffly accurate: the last row of beta is b", () => {
    const { beta, b, s } = standardForm(tableau);
    b.forEach((value, j) => {
      expect(Math.abs(value - beta[s - 1][j])).toBeLessThan(2e-12);
    });
  });

  it("embeds an estimate of lower order: the stage before last meets the conditions up to order − 1, not more", () => {
    // y_hat = y + Σ a_sj u_j: the error estimate is the last stage itself.
    const cut: Tableau = {
      ...tableau,
      c: tableau.c.slice(0, -1),
      d: tableau.d.slice(0, -1),
      a: [...tableau.a.slice(0, -2), (tableau.a.at(-1) ?? []).slice(0, -1)],
      C: tableau.C.slice(0, -1),
    };
    // In the cut tableau the last weight is the last entry of a, which is 1 as `standardForm` takes it.
    expect((tableau.a.at(-1) ?? []).at(-1)).toBe(1);
    const gaps = orderConditions(cut);
    for (const { left, right } of gaps.filter(({ order }) => order < tableau.order))
      expect(Math.abs(left - right)).toBeLessThan(2e-11);
    const atOrder = gaps
      .filter(({ order }) => order === tableau.order)
      .map(({ left, right }) => Math.abs(left - right));
    expect(Math.max(...atOrder)).toBeGreaterThan(1e-4);
  });

  const R = (z: number) => {
    // y' = z·y with h = 1: R(z) = 1 + z·bᵀ(I − z·beta)⁻¹·1.
    const { beta, b, s } = standardForm(tableau);
    const matrix = beta.map((row, i) => row.map((value, j) => (i === j ? 1 : 0) - z * value));
    return 1 + z * dot(b, solveDense(matrix, new Array<number>(s).fill(1)));
  };

  it("is L-stable along the negative axis: |R| < 1 and R(−∞) = 0", () => {
    for (let k = -30; k <= 60; k++) expect(Math.abs(R(-(10 ** (k / 10))))).toBeLessThan(1);
    expect(Math.abs(R(-1e7))).toBeLessThan(1e-5);
    // It vanishes like 1/z.
    expect(Math.abs(R(-1e7) / R(-1e6))).toBeLessThan(0.2);
  });

  it("is consistent: R(z) agrees with exp(z) up to its order", () => {
    const slope = Math.log2(Math.abs(R(0.2) - Math.exp(0.2)) / Math.abs(R(0.1) - Math.exp(0.1)));
    expect(slope).toBeGreaterThan(tableau.order + 0.7);
  });
});
