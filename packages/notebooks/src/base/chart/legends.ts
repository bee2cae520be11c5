// Legends of the charting library, which our figures draw themselves.
import { leftOut } from "./left-out.ts";

/** The library's answer where no scale asks for a legend. */
export function createLegends(_scales: unknown, _context: unknown, options: Record<string, { legend?: unknown }>): [] {
  if (Object.values(options).some((scale) => scale?.legend)) leftOut("legend");
  return [];
}

/** What `figure.legend` becomes. */
export function exposeLegends(): () => never {
  return legend;
}

export function legend(): never {
  return leftOut("legend");
}
