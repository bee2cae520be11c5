/** Public entry `@railfault/sim/node`: what needs Node, files and pictures without a browser. */

import { readFileSync } from "node:fs";
import { type Answered, type Refused, runScenario, type ScenarioRunOptions } from "./report/run-scenario.ts";

export { renderPng } from "./report/png.ts";
export { renderRunFigure, renderSvg } from "./report/svg.ts";

/**
 * Reads a scenario file, runs it, judges it.
 *
 * @param path of the file, UTF-8
 * @param options how to run it
 * @returns the run with its verdict, or all problems of the file
 * @throws the system's error where the file cannot be read
 *
 * @example
 * const result = runFile("hut.yaml");
 * if (result.kind === "answered") await writeFile("hut.svg", await renderSvg(figureData(result.run, result.verdict)));
 */
export function runFile(path: string, options: ScenarioRunOptions = {}): Refused | Answered {
  return runScenario(readFileSync(path, "utf8"), path, options);
}
