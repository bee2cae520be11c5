// Every check runs even when one before it fails; the last line says how many passed.
import { closeSync, existsSync, mkdtempSync, openSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { root } from "./install.mjs";
import { run } from "./process.mjs";

const tool = (path) => join(root, "node_modules", path);
const biome = tool("@biomejs/biome/bin/biome");

/** Of all files and of the code in the notebooks, which is no file of its own. */
export const typeCheck = { name: "types", command: ["--import", "tsx", "packages/notebooks/build/check-types.ts"] };

export const staticChecks = [
  { name: "format and lint", command: [biome, "check", "--error-on-warnings", "."] },
  { name: "circular imports and lint", command: [tool("oxlint/bin/oxlint"), "--deny-warnings", "."] },
];

const deadCode = { name: "dead code", command: [tool("knip/bin/knip.js"), "--no-progress"] };

const tests = (name, deep, args) => ({
  name,
  command: [tool("vitest/vitest.mjs"), "run", "--config", "test/vitest.config.ts", ...args],
  env: { RAILFAULT_DEEP: deep ? "1" : "0" },
  countsTests: true,
});

/** With arguments (`npm test -- test/ode`) only the tests that they select; else everything. */
export const allChecks = (args) =>
  args.length > 0 ? [tests("tests", false, args)] : [...staticChecks, typeCheck, deadCode, tests("tests", false, [])];

export const deepChecks = (args) => [tests("deep tests", true, args)];

/** Which branches of the library the daily tests take; those in a browser run built code, which is not looked into. */
export const coverageChecks = (args) => [tests("tests", false, ["--project", "tests", "--coverage.enabled", ...args])];

export const formatCommand = (args) => [
  process.execPath,
  [biome, "check", "--write", ...(args.length > 0 ? args : ["."])],
  { cwd: root },
];

/**
 * A test file that could not be loaded is one failure; so is a run that ended badly without naming any (a crash, an
 * error between tests).
 */
function count(check, status, resultFile) {
  if (!check.countsTests) return { passed: status === 0 ? 1 : 0, failed: status === 0 ? 0 : 1 };
  if (!existsSync(resultFile)) return { passed: 0, failed: 1 };
  const result = JSON.parse(readFileSync(resultFile, "utf8"));
  const unloaded = result.testResults.filter((file) => file.status === "failed" && file.assertionResults.length === 0);
  const failed = result.numFailedTests + unloaded.length;
  return {
    passed: result.numPassedTests,
    failed: status !== 0 && failed === 0 ? 1 : failed,
    skipped: result.numPendingTests + result.numTodoTests,
  };
}

const line = ({ name, countsTests }, { seconds, passed, failed, skipped }) => {
  const detail = countsTests ? `  (${passed} passed, ${failed} failed${skipped ? `, ${skipped} skipped` : ""})` : "";
  return `${failed === 0 ? "ok    " : "FAILED"}  ${seconds.padStart(6)} s  ${name}${detail}`;
};

async function runCheck(check, resultFile, stdio) {
  const report = check.countsTests ? ["--reporter=default", "--reporter=json", `--outputFile.json=${resultFile}`] : [];
  const begin = performance.now();
  const status = await run(process.execPath, [...check.command, ...report], {
    cwd: root,
    env: { ...process.env, ...check.env },
    stdio,
  });
  const seconds = ((performance.now() - begin) / 1000).toFixed(1);
  return { seconds, ...count(check, status, resultFile) };
}

/**
 * Runs the checks; gives 0 when all passed, else 1. A test counts as one check. What is no test runs beside the tests, one after the other, on
 * the processor that they leave idle while they wait; what it says is shown once it has ended, in one piece.
 */
export async function runChecks(checks) {
  const folder = mkdtempSync(join(tmpdir(), "railfault-checks-"));
  const resultFile = join(folder, "tests.json");
  const results = new Map();
  const lane = async (own, beside) => {
    for (const check of own) {
      const kept = join(folder, "said.txt");
      const to = beside ? openSync(kept, "w") : null;
      if (!beside) console.log(`\n── ${check.name}`);
      results.set(check, await runCheck(check, resultFile, to === null ? "inherit" : ["ignore", to, to]));
      if (to === null) continue;
      closeSync(to);
      console.log(`\n── ${check.name}\n${readFileSync(kept, "utf8")}`);
    }
  };
  try {
    const tests = checks.filter(({ countsTests }) => countsTests);
    const others = checks.filter(({ countsTests }) => !countsTests);
    await Promise.all([lane(others, tests.length > 0), lane(tests, false)]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  const all = [...results.values()];
  const sum = (key) => all.reduce((total, result) => total + result[key], 0);
  const lines = checks.map((check) => line(check, results.get(check)));
  console.log(`\n${lines.join("\n")}\n${sum("passed")} passed, ${sum("failed")} failed`);
  return sum("failed") === 0 ? 0 : 1;
}
