import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";

// A package of three files that is started as the command is.
const folder = mkdtempSync(join(tmpdir(), "railfault-load-"));
const kept = join(folder, "node_modules/.cache/railfault");
const packages = ["esbuild", "tsx"];

function write(path: string, text: string): void {
  writeFileSync(join(folder, path), text);
}

function started(env: Record<string, string> = {}): string {
  const { stdout, stderr } = spawnSync(process.execPath, [join(folder, "bin/start.mjs")], {
    encoding: "utf8",
    env: { ...process.env, ...env },
  });
  return stderr === "" ? stdout.trim() : stderr;
}

beforeAll(() => {
  for (const path of ["bin", "src/cli/threads", "node_modules"]) mkdirSync(join(folder, path), { recursive: true });
  for (const name of packages)
    symlinkSync(join(root, "packages/sim/node_modules", name), join(folder, "node_modules", name));
  cpSync(join(root, "packages/sim/bin/load.mjs"), join(folder, "bin/load.mjs"));
  write(
    "bin/start.mjs",
    'import { load } from "./load.mjs";\nawait load(new URL("../src/cli/main.ts", import.meta.url));\n',
  );
  write("package.json", '{"type": "module"}\n');
  write("src/word.ts", 'export const word: string = "first";\n');
  write("src/cli/threads/evaluate.ts", "export {};\n");
  write(
    "src/cli/main.ts",
    'import { word } from "../word.ts";\nconsole.log(word, import.meta.url.endsWith("/src/cli/main.ts"));\n',
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("what the command is started from", () => {
  test("is put together once, and anew when a file has changed", () => {
    expect(started()).toBe("first true");
    const before = readdirSync(kept);
    expect(started()).toBe("first true");
    expect(readdirSync(kept)).toEqual(before);
    write("src/word.ts", 'export const word: string = "second";\n');
    expect(started()).toBe("second true");
    // The one before may still be running somewhere.
    expect(readdirSync(kept)).toHaveLength(before.length + 1);
  });

  test("is read file by file where nothing may be kept, or can be", () => {
    rmSync(join(folder, "node_modules/.cache"), { recursive: true });
    expect(started({ RAILFAULT_KEEP: "no" })).toBe("second true");
    expect(readdirSync(join(folder, "node_modules")).sort()).toEqual(packages);
    write("node_modules/.cache", "");
    expect(started()).toBe("second true");
  });
});
