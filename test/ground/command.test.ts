import { spawn, spawnSync } from "node:child_process";
import { join } from "node:path";
import { expect, test } from "vitest";
import { root } from "./files.ts";

const task = join(root, ".ci/task.mjs");

test("an unknown task is refused with the list of those that exist", () => {
  const { status, stderr } = spawnSync(process.execPath, [task, "nonsense"], { encoding: "utf8" });
  expect(status).toBe(2);
  expect(stderr).toContain("start|railfault|bench|test");
});

// Runs `script` through the project's own way of starting programs.
const runner = (script: string) => [
  "--input-type=module",
  "--eval",
  `const { run } = await import(${JSON.stringify(join(root, ".ci/process.mjs"))});
   process.exit(await run("sh", ["-c", ${JSON.stringify(script)}]));`,
];

test.skipIf(process.platform === "win32").each([0, 3, 42])("an exit status of %i passes unchanged", (status) => {
  expect(spawnSync(process.execPath, runner(`exit ${status}`)).status).toBe(status);
});

test.skipIf(process.platform === "win32").each([
  ["SIGINT", 130],
  ["SIGTERM", 143],
] as const)("%s ends everything that was started", async (signal, status) => {
  // The grandchild in the background holds the pipe open: the stream closes only when it has ended too. Its waiting
  // time lies beyond the limit of this test, so a survivor is a failure.
  const child = spawn(process.execPath, runner("sleep 90 & echo started; wait"), {
    stdio: ["ignore", "pipe", "inherit"],
  });
  await new Promise((resolve) => child.stdout.once("data", resolve));
  const closed = new Promise((resolve) => child.once("close", resolve));
  child.kill(signal);
  expect(await closed).toBe(status);
});
