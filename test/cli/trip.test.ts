import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { railfault, shipped, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const hut = shipped("02-hiccup-supply.yaml");

test("prints the answer first, then what it is made of, and writes table and figure", async () => {
  const [csv, svg] = [join(folder, "trip.csv"), join(folder, "trip.svg")];
  const { status, stdout, stderr } = await railfault("trip", hut, "--csv", csv, "--svg", svg);
  expect(stderr).toBe(`--csv: ${csv} written\n--svg: ${svg} written\n`);
  expect(status).toBe(0);
  const text = unwrapped(stdout);
  expect(text).toMatch(/Set the trip point between 14\.\d\d V and 15\.\d\d V/);
  for (const words of [
    "worst case root-sum-square",
    "radio-frequency pick-up",
    "limit of relay radio",
    "E96",
    "no trip.",
  ])
    expect(text).toContain(words);
  expect(text.indexOf("Set the trip point")).toBeLessThan(text.indexOf("set voltage of"));
  expect(text).toContain("Be careful");
  const rows = readFileSync(csv, "utf8").split("\r\n");
  expect(rows[0]).toBe("part,name,value_V,low_V,high_V,kind,source");
  const sum = rows
    .filter((row) => row.startsWith("lower edge,"))
    .reduce((total, row) => total + Number(/^lower edge,(?:"[^"]*"|[^,]*),([^,]*)/.exec(row)?.[1]), 0);
  const band = rows.find((row) => row.startsWith("band,worst case"))?.split(",") ?? [];
  expect(Number(band[3])).toBeCloseTo(sum, 6);
  expect(readFileSync(svg, "utf8")).toMatch(/^<svg .*Where to set the trip/);
});

test("as JSON: the whole study with its format, also where no trip point is right", async () => {
  const { status, stdout } = await railfault("trip", shipped("17-two-radios.yaml"), "--json");
  const found = JSON.parse(stdout);
  expect(found).toMatchObject({ format: "railfault-trip 1", status: "answered", exitStatus: 1 });
  expect(status).toBe(1);
  expect(found.study.exists).toBe(false);
  expect(found.study.window.low).toBeGreaterThan(found.study.window.high);
  expect(found.study.changes[0].opens).toBe(true);
});

test("a trip point that was asked for and may land outside ends with 1", async () => {
  const { status, stdout } = await railfault("trip", hut, "--wanted", "14.4V");
  expect(status).toBe(1);
  expect(unwrapped(stdout)).toContain("asked for may land outside");
});

describe("what is refused, with status 2 and nothing printed", () => {
  test.each<[what: string, words: string[], said: RegExp[]]>([
    [
      "settings, all at once",
      [hut, "--bias", "1V", "--resistors", "7%"],
      [/resistors: error/, /bias: error/, /2 errors/],
    ],
    ["a setting unknown", [hut, "--grade", "1%"], [/no option --grade/]],
    [
      "a line without a protector",
      [shipped("07-lost-feedback-unprotected.yaml")],
      [/no-protector/, /help: +write `crowbar/],
    ],
    ["a size of no figure", [hut, "--size", "phone"], [/--size says how --svg FILE/]],
    ["a file with errors", [file("bad.yaml", "title: [")], [/bad\.yaml:1:/]],
  ])("%s", async (_, words, said) => {
    const { status, stdout, stderr } = await railfault("trip", ...words);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    for (const pattern of said) expect(stderr).toMatch(pattern);
    expect(stderr).not.toMatch(/mistake of the program/);
  });
});
