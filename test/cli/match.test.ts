import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { railfault, shipped, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);

const station = shipped("01-shorted-pass-transistor.yaml");
const few = ["--fuses", "blade fuse 30 A", "--scrs", "SCR 55 A; SCR 25 A"];
const at = (name: string): string => join(folder, name);

describe("match", () => {
  test("tells the short list and the reasons, and ends with 1 where the file's own parts are not on it", async () => {
    const { status, stdout } = await railfault("match", station, ...few);
    expect(stdout).toContain("1. blade fuse 30 A + SCR 55 A + 4 mm²");
    expect(unwrapped(stdout)).toContain(
      "blade fuse 20 A (yours): The line draws 21 A in service; blade fuse 20 A carries 15 A for good",
    );
    expect(stdout).toContain("Hundreds of amperes");
    expect(status).toBe(1);
  }, 30_000);

  test("ends with 0 where they are, with 4 where nothing is sound", async () => {
    expect((await railfault("match", station, ...few, "--load", "15 A")).status).toBe(0);
    const none = await railfault("match", station, ...few, "--load", "40 A");
    expect(none.status).toBe(4);
    expect(unwrapped(none.stdout)).toContain("What would open it");
  }, 60_000);

  test("writes Markdown, table, both figures and the line of the chosen combination, which can be run", async () => {
    const names = ["a.md", "a.csv", "a.svg", "line.yaml"];
    const [markdown, csv, svg, line] = names.map(at);
    const { stderr } = await railfault(
      "match",
      station,
      ...few,
      "--markdown",
      markdown,
      "--csv",
      csv,
      "--svg",
      svg,
      "--line",
      line,
    );
    for (const name of names) expect(stderr).toContain(`${at(name)} written`);
    expect(readFileSync(markdown, "utf8")).toContain("| fuse | SCR | wire |");
    expect(readFileSync(csv, "utf8")).toMatch(/^fuse,scr,wire,result,rule,/);
    expect(readFileSync(svg, "utf8")).toContain("which fuse with which SCR and wire?");
    expect(readFileSync(line, "utf8")).toContain("main fuse: blade fuse 30 A");
    expect((await railfault("run", line)).status).toBe(0);
    const curve = at("tc.svg");
    await railfault("match", station, ...few, "--figure", "time-current", "--choose", "1", "--svg", curve);
    expect(readFileSync(curve, "utf8")).toContain("what goes first?");
  }, 60_000);

  test("gives JSON, keeps what was found and goes on from there", async () => {
    const kept = at("kept.json");
    const first = await railfault("match", station, ...few, "--json", "--keep", kept);
    expect(JSON.parse(first.stdout)).toMatchObject({ format: "railfault match result 1", kind: "answered" });
    expect(existsSync(kept)).toBe(true);
    const again = JSON.parse((await railfault("match", station, ...few, "--json", "--keep", kept)).stdout);
    expect(again.runs).toBe(0);
    expect(again.sound).toEqual(JSON.parse(first.stdout).sound);
  }, 60_000);

  test("says everything that is wrong with its options at once", async () => {
    const { status, stderr } = await railfault(
      "match",
      station,
      "--load",
      "21",
      "--most",
      "many",
      "--size",
      "slide",
      "--choose",
      "2",
    );
    expect(status).toBe(2);
    for (const part of ['--load "21"', "--most is a whole number", "--size says", "--choose belongs"])
      expect(stderr).toContain(part);
    const names = await railfault("match", station, "--fuses", "blade fuse 21 A", "--wires", "4 mm", "--most", "0");
    expect(names.status).toBe(2);
    for (const part of ["There is no fuse class of this name", "This is no wire size", "1 to 1000"])
      expect(names.stderr).toContain(part);
    expect((await railfault("match", station, ...few, "--choose", "9", "--line", at("no.yaml"))).stderr).toContain(
      '--choose "9"',
    );
    expect((await railfault("match", station, "--keep", file("bad.json", "nothing"))).stderr).toContain(
      "it is no JSON",
    );
    expect((await railfault("match", shipped("10-clamp-only.yaml"))).stderr).toContain("no crowbar");
  }, 60_000);
});
