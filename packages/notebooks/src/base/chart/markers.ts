// Markers of the charting library on lines: ours have none.
import { leftOut } from "./left-out.ts";

/** Called for each mark that could have some. */
export function markers(_mark: unknown, options: Record<string, unknown> = {}): void {
  if (Object.keys(options).some((name) => name.startsWith("marker"))) leftOut("marker");
}

/** Puts them on what is drawn: there are none. */
export function applyMarkers(): void {}

/** The same of lines that are in pieces. */
export function applyGroupedMarkers(): void {}
