// The commands of package.json, without dependencies: installs what is missing, then runs the tools' own entry files.
// A fresh machine needs Node and npm only.
import { mkdirSync } from "node:fs";
import { join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { allChecks, coverageChecks, deepChecks, formatCommand, runChecks, staticChecks, typeCheck } from "./checks.mjs";
import { install, root } from "./install.mjs";
import { run } from "./process.mjs";

const launcher = join(root, "packages/sim/bin/railfault.mjs");
const notebooks = join(root, "packages/notebooks/build");
const example = "packages/sim/scenarios/01-shorted-pass-transistor.yaml";
const figure = "out/01-shorted-pass-transistor.svg";

/** Imports a file of the project. */
async function load(script) {
  if (script.endsWith(".ts")) {
    // Only now: before the installation there is nothing to import.
    const { register } = await import("tsx/esm/api");
    register({ tsconfig: false });
  }
  return import(pathToFileURL(script).href);
}

/** Runs in this very process, so that exit status, streams and signals are the script's own. */
async function become(script, args) {
  process.argv = [process.execPath, script, ...args];
  await load(script);
}

/**
 * The main job on a shipped scenario, then the notebooks until Ctrl-C; with `--once` the job alone. A verdict of any kind is success
 * here: the point is that one was reached.
 */
async function start(args) {
  const { readStartOptions, startUsage } = await load(join(notebooks, "options.ts"));
  const options = readStartOptions(args);
  if (options.problem) {
    console.error(`${options.problem}\nUsage: ${startUsage}`);
    return 2;
  }
  mkdirSync(join(root, "out"), { recursive: true });
  const status = await run(process.execPath, [launcher, "run", example, "--svg", figure]);
  const verdictReached = [0, 1, 4].includes(status);
  if (verdictReached) {
    console.log(`\nScenario: ${example}\nFigure:   ${figure}`);
    console.log(`Own line: npm run -s railfault -- run FILE   (this verdict's exit status there: ${status})`);
  }
  if (!verdictReached) return status;
  if (options.once) return 0;
  console.log("");
  const { serve } = await load(join(notebooks, "serve.ts"));
  return serve(options);
}

const tasks = {
  start,
  railfault: (args) => {
    // npm changes to the root before it runs anything; a path means what it meant where the user typed it.
    if (process.env.npm_lifecycle_event === "railfault" && process.env.INIT_CWD) process.chdir(process.env.INIT_CWD);
    return become(launcher, args);
  },
  bench: (args) => become(join(root, "packages/sim/bench/main.ts"), args),
  test: (args) => runChecks(allChecks(args)),
  "test:deep": (args) => runChecks(deepChecks(args)),
  pack: (args) => become(join(root, "packages/sim/scripts/pack.ts"), args),
  audit: () => run(process.execPath, [join(root, ".ci/audit.mjs")]),
  coverage: (args) => runChecks(coverageChecks(args)),
  mutate: async (args) => (await load(join(root, "test/mutation/run.mjs"))).mutate(args),
  build: (args) => become(join(notebooks, "main.ts"), args),
  lint: () => runChecks(staticChecks),
  typecheck: () => runChecks([typeCheck]),
  format: (args) => run(...formatCommand(args)),
};

const [name, ...args] = process.argv.slice(2);
const task = Object.hasOwn(tasks, name ?? "") ? tasks[name] : undefined;
if (!task) {
  console.error(`Usage: node ${relative(process.cwd(), process.argv[1])} ${Object.keys(tasks).join("|")}`);
  process.exit(2);
}
await install();
const status = await task(args);
if (status !== undefined) process.exitCode = status;
