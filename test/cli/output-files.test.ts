import { linkSync, lstatSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { UsageError } from "../../packages/sim/src/cli/command.ts";
import { checkTargets, writeOutput } from "../../packages/sim/src/cli/write-output.ts";
import { workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const target = (name: string) => ({ option: "--csv", path: join(folder, name) });

function* thenFails(): Generator<string> {
  yield "half of it";
  throw new Error("the rest is not to be had");
}

describe("a file is written", () => {
  test("whole, in the order of its pieces, text and bytes", () => {
    writeOutput(target("new.csv"), ["µ", new Uint8Array([65, 66]), "\n"]);
    expect(readFileSync(join(folder, "new.csv"), "utf8")).toBe("µAB\n");
  });

  test("or not at all: what was there before stays, and nothing lies beside it", () => {
    file("old.csv", "old");
    expect(() => writeOutput(target("old.csv"), thenFails())).toThrow(UsageError);
    expect(readFileSync(join(folder, "old.csv"), "utf8")).toBe("old");
    expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
  });

  test("through a symbolic link into the file that it leads to", () => {
    const real = file("real.csv", "old");
    symlinkSync(real, join(folder, "link.csv"));
    writeOutput(target("link.csv"), ["new"]);
    expect(lstatSync(join(folder, "link.csv")).isSymbolicLink()).toBe(true);
    expect(readFileSync(real, "utf8")).toBe("new");
  });

  test.skipIf(process.platform === "win32")("straight into a device", () => {
    checkTargets([{ option: "--csv", path: "/dev/null" }], [join(folder, "hut.yaml")]);
    expect(() => writeOutput({ option: "--csv", path: "/dev/null" }, ["gone"])).not.toThrow();
  });
});

describe("targets are refused before the work", () => {
  const input = file("hut.yaml", "title: hut\n");
  linkSync(input, join(folder, "twin.svg"));
  mkdirSync(join(folder, "out"));

  test("all at once", () => {
    const targets = ["hut.yaml", "twin.svg", "out", "nowhere/a.svg", "good.svg", "good.svg"].map(target);
    const problems = (() => {
      try {
        checkTargets(targets, [input]);
      } catch (error) {
        if (error instanceof UsageError) return error.problems;
      }
      return [];
    })();
    expect(problems.map((problem) => problem.split(": ").at(-1))).toEqual([
      "this file is read here; it is never written over.",
      "this file is read here; it is never written over.",
      "this is a folder.",
      "its folder does not exist; make it first.",
      "--csv already writes there.",
    ]);
  });

  test("and good ones pass", () => {
    expect(() => checkTargets([target("a.csv"), target("out/b.svg")], [input])).not.toThrow();
  });
});
