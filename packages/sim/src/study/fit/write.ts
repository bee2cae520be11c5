import { changeTexts, parseScenario, type ScenarioResult } from "../../scenario/index.ts";
import { type Path, pathText } from "../../scenario/keys.ts";
import { TOLERANCES, valueText } from "../../scenario/spread/index.ts";
import { readPath } from "../../scenario/spread/read-path.ts";
import type { FittedValue } from "./types.ts";

/** A spread's bell is cut off at so many standard deviations. */
const BELL = 3;

/**
 * The scenario with fitted values: every other line as it was, intervals as spreads, and above all where they come from.
 *
 * @param captureFile name of the capture
 */
export function fittedText(
  text: string,
  parsed: ScenarioResult,
  values: readonly FittedValue[],
  captureFile: string,
): string {
  const found = values.filter(({ state }) => state !== "untold");
  const changed = changeTexts(
    text,
    found.map(({ path, value, unit }) => [path, valueText(value, unit)] as const),
  );
  const noted = `${noteOf(found, captureFile)}${changed}`;
  const spread = changeTexts(noted, [
    ...keysOf(
      parsed,
      found.map(({ path }) => path),
    ).map((key) => [[TOLERANCES, key], null] as const),
    ...found.map(({ path, error, unit }) => [[TOLERANCES, pathText(path)], spreadText(error, unit)] as const),
  ]);
  // A spread too narrow for two ends is refused: then the values alone.
  return parseScenario(spread, "fitted.yaml").scenario === null ? noted : spread;
}

const spreadText = (error: number, unit: string): string =>
  `±${Number((BELL * error).toPrecision(2))} ${unit} normal`.replace("  ", " ");

function noteOf(values: readonly FittedValue[], captureFile: string): string {
  const name = captureFile.replaceAll(/[\r\n]+/g, " ");
  const lines = values.map(
    ({ label, value, unit, error, state }) =>
      `#   ${label}: ${valueText(value, unit)}, standard error ${Number(error.toPrecision(2))} ${unit}`.trimEnd() +
      (state === "at bound" ? ", at a bound" : ""),
  );
  return [`# Fitted to the capture ${name}:`, ...lines, "#", ""].join("\n");
}

/** Under which keys these values carry a spread already. */
function keysOf({ written }: ScenarioResult, paths: readonly Path[]): string[] {
  const tolerances = (written as Readonly<Record<string, unknown>> | null)?.[TOLERANCES];
  if (typeof tolerances !== "object" || tolerances === null) return [];
  const wanted = paths.map(pathText);
  return Object.keys(tolerances).filter((key) => {
    const path = readPath(key, written);
    return path !== null && wanted.includes(pathText(path));
  });
}
