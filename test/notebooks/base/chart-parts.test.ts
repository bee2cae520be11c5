// The site leaves parts of the charting library out: what it draws is still, stroke for stroke, what the whole library draws.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import * as figures from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { afterAll, beforeAll, expect, it } from "vitest";
import { chartParts } from "../../../packages/notebooks/build/chart-parts.ts";
import { everySeverity, surge, timeCurrent } from "../../figures/chart-data.ts";
import { root } from "../../ground/files.ts";

const { document } = new JSDOM("").window;
const folder = mkdtempSync(join(tmpdir(), "railfault-chart-parts-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

type Drawn = Pick<typeof figures, "headroomFigure" | "surgeBarsFigure" | "timeCurrentFigure"> & {
  readonly plot: (options: object) => Element;
};
let site: Drawn;

beforeAll(async () => {
  const entry = join(folder, "entry.js");
  const library = JSON.stringify(join(root, "packages/sim/node_modules/@observablehq/plot/src/index.js"));
  const source = JSON.stringify(join(root, "packages/sim/src/figures.ts"));
  writeFileSync(
    entry,
    `export { headroomFigure, surgeBarsFigure, timeCurrentFigure } from ${source};\nexport { plot } from ${library};\n`,
  );
  const vite = createRequire(join(root, "packages/notebooks/package.json")).resolve("vite");
  const { build }: { build: (config: object) => Promise<unknown> } = await import(pathToFileURL(vite).href);
  await build({
    configFile: false,
    root: folder,
    logLevel: "error",
    plugins: [chartParts()],
    build: { outDir: join(folder, "out"), minify: false, lib: { entry, formats: ["es"], fileName: () => "site.mjs" } },
  });
  site = await import(pathToFileURL(join(folder, "out/site.mjs")).href);
}, 60_000);

it.each([
  ["headroom", (from: Drawn | typeof figures) => from.headroomFigure(everySeverity(), { document })],
  ["surge", (from: Drawn | typeof figures) => from.surgeBarsFigure(surge(), { document })],
  [
    "surge, narrow and dark",
    (from: Drawn | typeof figures) => from.surgeBarsFigure(surge(9), { document, width: 360, scheme: "dark" }),
  ],
  ["time-current", (from: Drawn | typeof figures) => from.timeCurrentFigure(timeCurrent(), { document })],
] as const)("%s is drawn as with the whole library", (_, draw) => {
  expect(draw(site).outerHTML).toBe(draw(figures).outerHTML);
});

it.each([
  ["a legend", { color: { legend: true, domain: ["a"], range: ["red"] } }],
  ["a projection", { projection: "equal-earth" }],
  ["an axis", { x: { domain: [0, 1] } }],
])("%s, which is left out, is refused and not forgotten", (_, options) => {
  expect(() => site.plot({ document, marks: [], ...options })).toThrow(/do without/);
});
