import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "../ground/files.ts";

/** The bench as `npm run bench` starts it: the task has installed what is missing by then. */
export function bench(...words: string[]): { status: number | null; stdout: string; stderr: string } {
  const task = join(root, ".ci/task.mjs");
  const { status, stdout, stderr } = spawnSync(process.execPath, [task, "bench", ...words], { encoding: "utf8" });
  return { status, stdout, stderr };
}
