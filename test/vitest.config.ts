import { join } from "node:path";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** The long checks (`npm run test:deep`) live apart so that the daily run stays short. */
const deep = process.env.RAILFAULT_DEEP === "1";

/** What is measured by the clock wants the machine for itself: it comes last, a file at a time. */
const byTheClock = ["test/browser/speed.test.ts", "test/browser/capture-speed.test.ts"];

const inBrowser = ["test/browser/**/*.test.ts"];

/** Begun first, the longest before the others: begun last, one of them would run while the other processors have nothing left to do. */
const long = [
  "deep/attack-words",
  "deep/properties-pairs",
  "deep/attack",
  "deep/attack-scenario",
  "deep/attack-scenario-too",
  "deep/attack-change",
  "deep/attack-change-too",
  "deep/attack-capture",
  "deep/attack-capture-too",
  "deep/properties-sound",
  "browser/pages",
  "browser/attacked",
  "browser/pages-too",
  "browser/capture",
  "browser/regulator-controls",
  "browser/file",
  "browser/club",
  "browser/how-sure",
  "properties/pairs",
  "properties/sound",
  "browser/talk",
  "attack/patterns",
  "study/fit/fit",
  "docs/readme",
  "figures/charts-of-runs",
  "ground/layers",
  "study/talk/talk",
  "notebooks/pages/hiccup-told",
];

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const rank = ({ moduleId }: TestSpecification): number => {
      const at = long.findIndex((name) => moduleId.endsWith(`test/${name}.test.ts`));
      return at < 0 ? long.length : at;
    };
    // Projects stay one after the other: a process serves the files of one of them.
    const order = [...new Set(sorted.map(({ project }) => project))];
    return order.flatMap((project) =>
      sorted.filter((file) => file.project === project).sort((a, b) => rank(a) - rank(b)),
    );
  }
}

const common = {
  root: join(import.meta.dirname, ".."),
  testTimeout: deep ? 600_000 : 30_000,
  // Modules hold no state (a test in test/ground sees to it), so the files of a process share what one of them has loaded, compiled code included.
  isolate: false,
  // Most code runs for a moment only, once a file: compiling it well pays later than the program expects. A word of the compiler of Node 20.
  // Larger room for what lives a moment: it is collected less often.
  execArgv: [
    "--max-semi-space-size=64",
    ...(process.versions.node.startsWith("20.") ? ["--interrupt-budget=500000"] : []),
  ],
  // A test without an assertion proves nothing.
  expect: { requireAssertions: true },
};

export default defineConfig({
  root: common.root,
  test: {
    allowOnly: false,
    // Asked for by `npm run coverage`; what runs in threads and processes of its own is not seen.
    coverage: {
      provider: "v8",
      include: ["packages/sim/src/**/*.ts"],
      reporter: ["text-summary", "json-summary", "html"],
      reportsDirectory: "out/coverage",
      // A test that fails does not make the rest unknown.
      reportOnFailure: true,
    },
    // A file for each of the two processors that the checks are meant for; the runner itself does little.
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    projects: deep
      ? [{ test: { ...common, name: "deep", include: ["test/deep/**/*.test.ts"] } }]
      : [
          {
            test: {
              ...common,
              name: "in a browser",
              include: inBrowser,
              exclude: byTheClock,
              // These wait much of the time: for a page to come to rest, for a pause to end.
              maxWorkers: 4,
              // What is measured by the clock has the browser as its readers have it.
              env: { RAILFAULT_BROWSER_COMPILES: "little" },
              // First: what is checked beside the tests takes the time that these wait.
              sequence: { groupOrder: 0 },
            },
          },
          {
            test: {
              ...common,
              name: "tests",
              include: ["test/**/*.test.ts"],
              exclude: ["test/deep/**", ...inBrowser],
              sequence: { groupOrder: 1 },
            },
          },
          {
            test: {
              ...common,
              name: "by the clock",
              include: byTheClock,
              maxWorkers: 1,
              sequence: { groupOrder: 2 },
            },
          },
        ],
  },
});
