import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { scattered } from "../study/spread/scattered.ts";
import { railfault, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const line = file("hut.yaml", scattered([], "1 ms"));
const out = (name: string): string => join(folder, name);
const x = "crowbar.trip voltage: 14..17 V";

test("a sweep tells where the outcome changes and writes every figure", async () => {
  const files = ["--csv", out("sweep.csv"), "--svg", out("sweep.svg")];
  const { status, stdout } = await railfault("whatif", line, "--x", x, "--points", "7", "--threads", "1", ...files);
  expect(status).toBe(0);
  expect(unwrapped(stdout)).toMatch(/Between 15.5 V and 16 V: from load safe, SCR kept on to load above its maximum/);
  const table = readFileSync(out("sweep.csv"), "utf8").trimEnd().split("\r\n");
  expect(table).toHaveLength(8);
  expect(table[0]).toMatch(/^crowbar\.trip voltage \[V\],outcome,too_close,peak_V,trip_s,/);
  expect(readFileSync(out("sweep.svg"), "utf8")).toContain("What if: scattered");
}, 120_000);

test("as JSON: the same points, each with what became of the load", async () => {
  const { status, stdout } = await railfault("whatif", line, "--x", x, "--points", "4", "--threads", "1", "--json");
  expect(status).toBe(0);
  const told = JSON.parse(stdout);
  expect(told).toMatchObject({ status: "answered", exitStatus: 0 });
  expect(JSON.stringify(told)).toContain("crowbar.trip voltage");
}, 120_000);

test("a point is written as a scenario and nothing is run", async () => {
  const { status } = await railfault("whatif", line, "--x", x, "--at", "15.2 V", "--scenario", out("point.yaml"));
  expect(status).toBe(0);
  expect(readFileSync(out("point.yaml"), "utf8")).toContain("trip voltage: 15.2 V");
});

test.each([
  [[], "--x AXIS says what is varied"],
  [["--x", x, "--at", "15 V"], "--at and --scenario FILE belong together"],
  [["--x", x, "--most", "400"], "--most belongs to a plane"],
  [
    ["--x", x, "--y", "crowbar.sense filter: 5..50 us", "--most", "10"],
    "--most takes a whole number from 300 to 20000",
  ],
  [["--x", "crowbar.trip voltage: 17..14 V"], "The lower end first".toLowerCase()],
] as const)("bad use: %j", async (words, said) => {
  const { status, stderr } = await railfault("whatif", line, ...words);
  expect(status).toBe(2);
  expect(unwrapped(stderr)).toContain(said);
});
