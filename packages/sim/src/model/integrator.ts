import { Odex } from "../ode/odex.ts";
import { Rosenbrock } from "../ode/rosenbrock.ts";
import { rodas4, rodas5p } from "../ode/tableau.ts";
import type { Integrator, Tolerance } from "../ode/types.ts";
import type { Line } from "./line.ts";

/** Integration methods: Rodas5P is the usual one, the others check it. */
export type Method = "rodas5p" | "rodas4" | "odex";

const TOLERANCES = { default: 1e-6, tight: 1e-9 } as const;

export function relativeTolerance(asked: number | keyof typeof TOLERANCES): number {
  return typeof asked === "number" ? asked : TOLERANCES[asked];
}

export function integratorFor(method: Method, line: Line, relative: number, maxSteps: number): Integrator {
  const tolerance = toleranceOf(line, relative);
  if (method === "odex") return new Odex(line, tolerance, 20 * maxSteps);
  return new Rosenbrock(line, method === "rodas4" ? rodas4 : rodas5p, tolerance, maxSteps);
}

/** Some states may err more where the usual accuracy is asked for; who asks for more gets it everywhere. */
function toleranceOf({ scales, slack }: Line, relative: number): Tolerance {
  const first = scales.map((scale) => scale * relative);
  if (relative < TOLERANCES.default) return { relative, absolute: first };
  return { relative, absolute: first.map((floor, i) => floor * slack[i]), first };
}
