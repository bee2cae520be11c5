import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { SPREADS, scattered } from "../study/spread/scattered.ts";
import { railfault, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const line = file("hut.yaml", scattered(SPREADS));
const out = (name: string): string => join(folder, name);
const small = ["--samples", "24", "--corners", "2", "--threads", "2"];

test("tells the chance first, then what matters and the worst, and writes what was asked for", async () => {
  const files = ["--csv", out("all.csv"), "--svg", out("all.svg"), "--worst", out("worst.yaml")];
  const more = ["--worst-corner", out("corner.yaml"), "--at", "5", "--scenario", out("sixth.yaml")];
  const { status, stdout, stderr } = await railfault("tolerances", line, ...small, ...files, ...more);
  const said = unwrapped(stdout);
  expect(status).toBe(1);
  expect(said).toMatch(/A load came above its maximum in \d+ of 24 samples: a chance of [\d.]+ %, between/);
  expect(said).toContain("Rank correlation after Spearman");
  expect(said).toContain("95 % interval (Wilson)");
  expect(said).toContain("All 4 corners of crowbar: trip voltage");
  expect(said).toContain("Hundreds of amperes");
  expect(stderr).toContain("worst.yaml written");
  const table = readFileSync(out("all.csv"), "utf8").trimEnd().split("\r\n");
  expect(table).toHaveLength(1 + 24 + 4);
  expect(table[0]).toBe(
    "kind,index,ambient [°C],crowbar.trip voltage [V],crowbar.sense filter [us],loads[0].input capacitance [mF],outcome,too_close,peak_V,trip_s,peak_share",
  );
  expect(readFileSync(out("all.svg"), "utf8")).toContain("How sure is it: scattered");
  const worst = await railfault("run", out("worst.yaml"), "--json");
  expect(worst.status).toBe(1);
  const peaksOf = (kind: string): number[] =>
    table.filter((row) => row.startsWith(kind)).map((row) => Number(row.split(",").at(-3)));
  const peakOf = ({ stdout: json }: { stdout: string }): number => JSON.parse(json).verdict.loads[0].peak.value;
  expect(peakOf(worst)).toBeCloseTo(Math.max(...peaksOf("sample")), 7);
  expect(peakOf(await railfault("run", out("corner.yaml"), "--json"))).toBeCloseTo(Math.max(...peaksOf("corner")), 7);
  expect(peakOf(await railfault("run", out("sixth.yaml"), "--json"))).toBeCloseTo(peaksOf("sample")[5], 7);
}, 120_000);

describe("bad use", () => {
  test.each([
    [["--samples", "0"], '--samples takes a whole number from 1 to 1000000; received "0"'],
    [["--samples", "1000000000"], '--samples takes a whole number from 1 to 1000000; received "1000000000"'],
    [["--seed", "-1"], "--seed takes a whole number from 0"],
    [["--threads", "0"], "--threads takes a whole number from 1 to 256"],
    [["--corners", "11"], "--corners takes a whole number from 0 to 10"],
    [["--part", "17/16", "--json"], '--part is I/N with I from 1 to N, N at most 10000; received "17/16"'],
    [["--part", "1/2"], "--part gives a part of a result, which only --json hands on"],
    [["--part", "1/2", "--json", "--svg", "x.svg"], "--svg tells of the whole; ask for it with --merge"],
    [["--at", "3"], "--at INDEX and --scenario FILE belong together"],
    [["--size", "phone"], "--size says how --svg FILE or --png FILE looks"],
  ] as const)("%j", async (words, said) => {
    const { status, stderr } = await railfault("tolerances", line, ...words);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });

  test("a scenario without spreads, contradictory ones, and files that are no parts", async () => {
    const plain = await railfault("tolerances", file("plain.yaml", scattered([])));
    expect(plain).toMatchObject({ status: 2 });
    expect(unwrapped(plain.stderr)).toContain("No value of this scenario carries a spread");
    const crossed = await railfault(
      "tolerances",
      file("crossed.yaml", scattered(["crowbar.trip voltage: 16…14 V"])),
      "--json",
    );
    expect(crossed.status).toBe(2);
    const [, told] = JSON.parse(crossed.stdout).issues;
    // The first one warns of its fuse.
    expect(told).toMatchObject({ code: "contradictory-spread", received: "16…14 V" });
    const noPart = await railfault("tolerances", "--merge", line);
    expect(noPart.status).toBe(2);
    expect(noPart.stderr).toContain("is no result of");
  }, 60_000);
});
