import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { launcher, workshop } from "../cli/launch.ts";
import { quickLine } from "./support/arguments-entrance.ts";

const { folder, file, close } = workshop();
afterAll(close);
const hut = file("hut.yaml", quickLine());

function launched(words: readonly string[], before: string | null = null, env: Record<string, string> = {}) {
  const imports = before === null ? [] : ["--import", `data:text/javascript,${encodeURIComponent(before)}`];
  return spawnSync(process.execPath, [...imports, launcher, ...words], {
    encoding: "utf8",
    env: { ...process.env, ...env },
  });
}

describe.skipIf(process.platform === "win32")("a signal that comes while a file is being written", () => {
  // The process tells itself to end at its tenth piece: no clock decides.
  const atPiece = (name: string): string => `
    import fs from "node:fs";
    import { syncBuiltinESMExports } from "node:module";
    const write = fs.writeSync;
    let pieces = 0;
    fs.writeSync = (...given) => {
      if (++pieces === 10) process.kill(process.pid, "${name}");
      return write(...given);
    };
    syncBuiltinESMExports();`;

  test.each(["SIGINT", "SIGTERM", "SIGHUP"])("%s ends it once the file is whole", (name) => {
    const target = join(folder, `${name}.csv`);
    const whole = launched(["run", hut, "--csv", `${target}.whole`]);
    expect(whole.status).toBeGreaterThanOrEqual(0);
    const { signal } = launched(["run", hut, "--csv", target], atPiece(name));
    expect(signal).toBe(name);
    expect(readFileSync(target, "utf8")).toBe(readFileSync(`${target}.whole`, "utf8"));
    expect(readdirSync(folder).filter((each) => each.startsWith("."))).toEqual([]);
  });
});

test("where home and the place for passing files take nothing, a run is a run", () => {
  // Below a file nothing can be made, whatever rights one has.
  const nowhere = join(hut, "nowhere");
  const env = { HOME: nowhere, TMPDIR: nowhere, XDG_CACHE_HOME: nowhere, XDG_CONFIG_HOME: nowhere };
  const target = join(folder, "homeless.svg");
  const { status, stderr } = launched(["run", hut, "--svg", target], null, env);
  expect([status, stderr]).toEqual([1, `--svg: ${target} written\n`]);
});

test("a folder that may not be written is refused before the work, and nothing is left in it", () => {
  const closed = join(folder, "closed");
  mkdirSync(closed);
  chmodSync(closed, 0o555);
  // Rights mean nothing to an administrator; the system's own folder takes no file of anybody.
  const place = process.getuid?.() === 0 ? "/proc" : closed;
  const { status, stdout, stderr } = launched(["run", hut, "--csv", join(place, "railfault.csv")]);
  expect(status).toBe(2);
  expect(stderr).toContain("cannot be written");
  if (place === closed) expect(stdout).toBe("");
  expect(readdirSync(closed)).toEqual([]);
});

test("no part that is put together with others is written over", () => {
  const parts = ["one.json", "two.json"].map((name) => file(name, "{}"));
  const { status, stderr } = launched(["tolerances", "--merge", ...parts, "--csv", parts[1] ?? ""]);
  expect([status, readFileSync(parts[1] ?? "", "utf8")]).toEqual([2, "{}"]);
  expect(stderr).toContain("this file is read here; it is never written over");
});
