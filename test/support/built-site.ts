import { execFile } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { filesBelow, root } from "../ground/files.ts";

const run = promisify(execFile);
const store = join(root, "out/site");
const minute = 60_000;

/**
 * The folder of the built notebooks, single-file pages included. They are built once for a state of the sources, whoever asks first;
 * other tests, also in other processes, wait for that. Throws with the build's own words where it fails.
 */
export async function builtSite(): Promise<string> {
  const folder = join(store, stateOfSources());
  const lock = `${folder}.lock`;
  mkdirSync(store, { recursive: true });
  while (!existsSync(folder)) {
    if (!take(lock)) {
      await new Promise((resolve) => setTimeout(resolve, 100));
      continue;
    }
    try {
      if (!existsSync(folder)) await build(folder);
    } finally {
      rmSync(lock, { recursive: true, force: true });
    }
  }
  return folder;
}

// A folder is made by one process only. One that was left behind by a process that died counts no more after a while.
function take(lock: string): boolean {
  try {
    mkdirSync(lock);
    return true;
  } catch {
    if (ageOf(lock) > 2 * minute) rmSync(lock, { recursive: true, force: true });
    return false;
  }
}

async function build(folder: string): Promise<void> {
  for (const name of readdirSync(store))
    if (ageOf(join(store, name)) > 60 * minute) rmSync(join(store, name), { recursive: true, force: true });
  const unfinished = `${folder}.${process.pid}`;
  try {
    await run(
      process.execPath,
      ["--import", "tsx", "packages/notebooks/build/main.ts", unfinished, "--notebooks-only"],
      { cwd: root },
    );
    renameSync(unfinished, folder);
  } catch (error) {
    rmSync(unfinished, { recursive: true, force: true });
    throw new Error(`The notebooks cannot be built:\n${(error as { stderr?: string }).stderr ?? String(error)}`);
  }
}

function ageOf(path: string): number {
  return existsSync(path) ? Date.now() - statSync(path).mtimeMs : 0;
}

function stateOfSources(): string {
  const hash = createHash("sha256").update(readFileSync(join(root, "pnpm-lock.yaml")));
  const folders = ["build", "pages", "public", "src"].map((name) => `packages/notebooks/${name}`);
  for (const folder of [...folders, "packages/sim/src", "packages/sim/scenarios"])
    for (const path of filesBelow(join(root, folder), [""]))
      hash.update(path).update(readFileSync(join(root, folder, path)));
  return hash.digest("hex").slice(0, 16);
}
