// Changes the code of a folder here and there, one change at a time, and sees whether a test notices. Long: a folder takes an hour or more.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { Stryker } from "@stryker-mutator/core";

const sources = "packages/sim/src";

/** By folder: the tests that say most about it in the least time. */
const tests = {
  devices: [
    "test/devices/*.test.ts",
    "test/model/*-options.test.ts",
    "test/model/contacts-and-diodes.test.ts",
    "test/model/dead-start.test.ts",
  ],
  hybrid: ["test/hybrid/*.test.ts"],
  // Without those that integrate for long and say little that the others do not.
  verdict: ["test/verdict/!(held-melting|not-over|real-runs|unrecorded).test.ts"],
};

/**
 * @param args a folder, and which of its files where not all are meant
 * @returns an exit status
 */
export async function mutate([folder, ...files]) {
  if (!Object.hasOwn(tests, folder ?? "")) {
    process.stderr.write(`Usage: npm run mutate -- ${Object.keys(tests).join("|")} [file …]\n`);
    return 2;
  }
  // Of a name that stands for nothing there would be a report without a change in it.
  const unknown = files.filter((file) => !existsSync(join(sources, folder, `${file}.ts`)));
  if (unknown.length > 0) {
    process.stderr.write(
      `No such file below ${join(sources, folder)}, each named without its ending: ${unknown.join(", ")}\n`,
    );
    return 2;
  }
  process.env.RAILFAULT_TESTS = tests[folder].join(" ");
  const places = files.length > 0 ? files : ["**/*"];
  const report = files.length > 0 ? `${folder}-${files.join("-")}` : folder;
  await new Stryker({
    mutate: places.map((file) => join(sources, folder, `${file}.ts`)),
    plugins: ["@stryker-mutator/vitest-runner"],
    testRunner: "vitest",
    vitest: { configFile: "test/mutation/vitest.config.ts", related: false },
    coverageAnalysis: "perTest",
    // What runs once, when a module is loaded, cannot be switched from test to test; texts are held by whoever reads them.
    ignoreStatic: true,
    mutator: { excludedMutations: ["StringLiteral"] },
    ignorePatterns: ["out", "packages/notebooks/dist"],
    tempDirName: "out/mutation/copies",
    reporters: ["progress-append-only", "clear-text", "json"],
    clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
    jsonReporter: { fileName: `out/mutation/${report}.json` },
    concurrency: 2,
    // A change that makes a run endless counts as noticed; a machine that is busy must not.
    timeoutMS: 10_000,
  }).runMutationTest();
  return 0;
}
