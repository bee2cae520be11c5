import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { root } from "./files.ts";

const homes = /(?<![\w.])\/(?:home|root|Users|work|workspace|farm)\/|[A-Z]:\\Users\\/;
const registry = /https?:\/\/[^\s"'/]*(?:registry|npm|mirror|proxy|artifact)|registry\.[a-z]/;

const largest = 4 << 20;

function trackedTexts(): { path: string; text: string }[] {
  const listed = execFileSync("git", ["ls-files", "-z"], { cwd: root, encoding: "utf8" });
  return listed
    .split("\0")
    .filter((path) => path !== "" && existsSync(join(root, path)) && statSync(join(root, path)).size <= largest)
    .map((path) => ({ path, text: readFileSync(join(root, path), "utf8") }))
    .filter(({ text }) => !text.includes("\0"));
}

function hits(files: readonly { path: string; text: string }[], pattern: RegExp): string[] {
  return files.flatMap(({ path, text }) => {
    const match = pattern.exec(text);
    return match === null ? [] : [`${path}: ${match[0].trim()}`];
  });
}

// A checkout without git (an unpacked archive) has no list of tracked files; there is nothing to commit from there.
describe.skipIf(!existsSync(join(root, ".git")))("tracked files", () => {
  test("are listed", () => {
    expect(trackedTexts().map(({ path }) => path)).toContain("package.json");
  });

  test("name no absolute path of somebody's machine", () => {
    expect(hits(trackedTexts(), homes)).toEqual([]);
  });

  test("name no package registry", () => {
    expect(hits(trackedTexts(), registry)).toEqual([]);
  });

  test("have a lockfile without any address, so that it serves wherever the packages come from", () => {
    const lockfile = readFileSync(join(root, "pnpm-lock.yaml"), "utf8");
    expect(lockfile).toContain("integrity: sha512-");
    expect(lockfile).not.toContain("://");
  });
});

describe("the patterns", () => {
  const found = (text: string, pattern: RegExp) => hits([{ path: "a", text }], pattern);

  test("see a machine's path and leave others alone", () => {
    for (const top of ["home", "Users", "root"]) expect(found(`see /${top}/somebody/a.ts`, homes)).toHaveLength(1);
    for (const text of ["../work/a.ts", "packages/home/a.ts", "#!/usr/bin/env bash"])
      expect(found(text, homes)).toEqual([]);
  });

  test("see a registry and leave other addresses alone", () => {
    for (const host of ["registry.", "npm."]) expect(found(`https://${host}example/x.tgz`, registry)).toHaveLength(1);
    expect(found("https://keepachangelog.com/en/1.1.0/", registry)).toEqual([]);
    expect(found("the registry is asked once", registry)).toEqual([]);
  });
});

describe("packages", () => {
  test.each(["package.json", "packages/sim/package.json"])("%s names exact versions", (path) => {
    const manifest = JSON.parse(readFileSync(join(root, path), "utf8")) as Record<string, Record<string, string>>;
    const versions = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies });
    expect(versions.length).toBeGreaterThan(5);
    expect(versions.filter(([, version]) => !/^(?:\d+\.\d+\.\d+|workspace:\*)$/.test(version))).toEqual([]);
  });
});
