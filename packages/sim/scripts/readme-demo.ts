/**
 * Writes what the README shows of its example, the whole printed verdict and the figure, so that neither can drift from the program:
 * `npx tsx packages/sim/scripts/readme-demo.ts`.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { figureData } from "../src/report/figure-data.ts";
import { renderFits } from "../src/report/fits.ts";
import { runScenario } from "../src/report/run-scenario.ts";
import { renderSvg } from "../src/report/svg.ts";
import { renderText } from "../src/report/text.ts";

const folder = join(import.meta.dirname, "..");

/** Where the two files stand, without their ending. */
export const demoFiles = join(folder, "docs/figures/01-shorted-pass-transistor");

/**
 * The example as `npm start` shows it.
 *
 * @returns the printed text at 80 columns and the figure
 * @throws Error where the example has no verdict
 */
export async function readmeDemo(): Promise<{ readonly text: string; readonly svg: string }> {
  const name = "01-shorted-pass-transistor.yaml";
  const result = runScenario(readFileSync(join(folder, "scenarios", name), "utf8"), name);
  if (result.kind === "refused") throw new Error(`the README's example was refused: ${result.issues[0]?.message}`);
  const { verdict, parsed, run } = result;
  return {
    text: renderText(verdict, { width: 80, colour: false }) + renderFits(parsed.fits, 80),
    svg: await renderSvg(figureData(run, verdict)),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { text, svg } = await readmeDemo();
  writeFileSync(`${demoFiles}.txt`, text);
  writeFileSync(`${demoFiles}.svg`, svg);
}
