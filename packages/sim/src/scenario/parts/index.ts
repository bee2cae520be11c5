import { BATTERIES } from "./batteries.ts";
import { CLAMPS } from "./clamps.ts";
import { FUSES } from "./fuses.ts";
import { INSULATIONS } from "./insulations.ts";
import { LOADS } from "./loads.ts";
import { PANELS } from "./panels.ts";
import { SCRS } from "./scrs.ts";
import { CHARGERS, SUPPLIES } from "./supplies.ts";
import { SWITCHES } from "./switches.ts";
import type { PartClass, PartKind } from "./types.ts";

/** Every part class, in the order in which a list shows them. */
export const parts: readonly PartClass[] = Object.freeze([
  ...SUPPLIES,
  ...CHARGERS,
  ...BATTERIES,
  ...PANELS,
  ...FUSES,
  ...SCRS,
  ...CLAMPS,
  ...SWITCHES,
  ...LOADS,
  ...INSULATIONS,
]);

/**
 * The class of this kind and name; case, spacing and the blanks between number and unit do not matter.
 * @returns null where there is none
 * @example findPart("fuse", "Blade fuse 20A")?.values.coldResistance.value // 0.00338
 */
export function findPart(kind: PartKind, name: string): PartClass | null {
  const wanted = folded(name);
  return parts.find((part) => part.kind === kind && folded(part.name) === wanted) ?? null;
}

/** Names of all classes of a kind, in the order of the list. */
export function partNames(kind: PartKind): string[] {
  return parts.filter((part) => part.kind === kind).map((part) => part.name);
}

function folded(name: string): string {
  return name.toLowerCase().replaceAll("×", "x").replace(/\s+/g, "");
}
