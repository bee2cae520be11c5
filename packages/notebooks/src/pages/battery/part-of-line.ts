import { describeValue, type Scenario, type Source } from "@railfault/sim";
import type { Path } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";

/** A line as it can be read: where its present text has errors, as it was opened. */
export function readable(now: LineNow): Scenario | null {
  return now.parsed.scenario ?? now.original.scenario;
}

/** A place in the list of sources that no line has: a control for it says that the line has no such value. */
const NOWHERE = 9999;

function sourceOf(kind: Source["kind"], now: LineNow): number {
  const index = readable(now)?.sources.findIndex((source) => source.kind === kind) ?? -1;
  return index < 0 ? NOWHERE : index;
}

/** The first battery's place among the sources. */
export const batteryOf = (now: LineNow): number => sourceOf("battery", now);

/** The first charger's place among the sources. */
export const chargerOf = (now: LineNow): number => sourceOf("supply", now);

/** A path below the first battery. */
export const ofBattery =
  (...steps: Path) =>
  (now: LineNow): Path => ["sources", batteryOf(now), ...steps];

/** A path below the first charger. */
export const ofCharger =
  (...steps: Path) =>
  (now: LineNow): Path => ["sources", chargerOf(now), ...steps];

/** A word or name of the line, written or not. */
export function wordOf(now: LineNow, path: Path): string | null {
  const value = describeValue(now.parsed, path)?.value;
  return typeof value === "string" ? value : null;
}

/** The class of a fuse, be it written by its name alone or with values of its own. */
export function fuseClassOf(now: LineNow, path: Path): string | null {
  return wordOf(now, [...path, "part"]) ?? wordOf(now, path);
}

/** Whether something stands in the line's file at a path. */
export function written(now: LineNow, path: Path): boolean {
  return path.reduce<unknown>((value, step) => inside(value, step), now.parsed.written) !== undefined;
}

function inside(value: unknown, step: string | number): unknown {
  if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
  return (value as Readonly<Record<string | number, unknown>>)[step];
}
