import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { railfault, shipped, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const at = (name: string): string => join(folder, name);

// No blade fuse of 30 A carries 40 A: the rules alone tell that, and nothing is run.
const none = [shipped("01-shorted-pass-transistor.yaml"), "--fuses", "blade fuse 30 A", "--scrs", "SCR 55 A"];
const match = (...words: string[]) => railfault("match", ...none, "--load", "40 A", ...words);

describe("where no combination is sound", () => {
  test("there is no line to write, which is said, and the matrix is drawn all the same", async () => {
    const { status, stdout, stderr } = await match("--drop", "0.4 V", "--line", at("no.yaml"), "--png", at("no.png"));
    expect(status).toBe(4);
    expect(unwrapped(stdout)).toContain("blade fuse 30 A carries 22.5 A for good");
    expect(stderr).toContain("--line: no combination to write\n");
    expect(existsSync(at("no.yaml"))).toBe(false);
    expect([...readFileSync(at("no.png")).subarray(1, 4)]).toEqual([..."PNG"].map((letter) => letter.charCodeAt(0)));
  });

  test("one has to be chosen by its name before its currents are drawn", async () => {
    const { status, stdout, stderr } = await match("--figure", "time-current", "--svg", at("no.svg"));
    expect(status).toBe(2);
    // Known before the first full run, and told then: no answer was waited for.
    expect(stdout).toBe("");
    expect(stderr).toContain("--figure time-current: no combination is sound; choose one by its name.");
    expect(existsSync(at("no.svg"))).toBe(false);
  });

  test("a name that none of them has is told, and no number is offered", async () => {
    const { status, stderr } = await match("--choose", "blade fuse 7 A", "--line", at("no.yaml"));
    expect(status).toBe(2);
    expect(stderr).toContain('--choose "blade fuse 7 A": there is no such combination; allowed: the name of one.');
  });
});

test("a choice that no answer can hold is refused before anything is run", async () => {
  const some = [shipped("01-shorted-pass-transistor.yaml"), "--fuses", "blade fuse 30 A", "--scrs", "SCR 55 A"];
  const kept = at("kept.json");
  for (const choose of ["blade fuse 7 A", "999", "0"]) {
    const asked = ["--figure", "time-current", "--svg", at("no.svg"), "--choose", choose, "--keep", kept];
    const { status, stdout, stderr } = await railfault("match", ...some, ...asked);
    expect(status).toBe(2);
    expect(unwrapped(stderr)).toMatch(
      new RegExp(`--choose "${choose}": there is no such combination; allowed: 1 to \\d+ at most, or a name such as "`),
    );
    expect([stdout, existsSync(kept)]).toEqual(["", false]);
  }
});

test("what an earlier study kept is text, or it is refused as what it is", async () => {
  const { status, stderr } = await match("--keep", file("bytes.json", Uint8Array.of(0x7b, 0xff, 0x7d)));
  expect(status).toBe(2);
  expect(stderr).toContain("is not UTF-8 text (line 1): save it as UTF-8.");
});
