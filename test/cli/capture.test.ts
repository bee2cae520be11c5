import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { captureFolder } from "../../packages/sim/scripts/demo-captures.ts";
import { railfault, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const demo = (name: string) => join(captureFolder, name);

test("prints the answer first, then what was understood, and writes a table", async () => {
  const csv = join(folder, "figures.csv");
  const { status, stdout, stderr } = await railfault(
    "capture",
    demo("hiccup-supply-synthetic-comma.csv"),
    "--limits",
    "11.7…15.9 V",
    "--csv",
    csv,
  );
  expect(stderr).toBe(`--csv: ${csv} written\n`);
  // A sample each millisecond, on a ramp of 1.1 V in each.
  expect(status).toBe(1);
  const text = unwrapped(stdout);
  expect(text).toMatch(/may be above the limit of 15\.9 V or within it/);
  expect(text).toMatch(/Trips \d times .* again and again: every 3\d\d(\.\d+)? ms ± \d+(\.\d+)? ms/);
  expect(text).toMatch(/Highest: 1\d\.\d+ V \(true peak 1\d\.\d+…1\d\.\d+ V\)/);
  expect(text.indexOf("may be above")).toBeLessThan(text.indexOf("Understood"));
  expect(text).toContain("time: column 1, s");
  expect(text).toContain("channel 2: radio, V");
  expect(readFileSync(csv, "utf8")).toMatch(/^channel,quantity,unit,value,minus,plus,time_s\r\nradio,highest,V,1/);
});

test("as JSON: layout, judgement and format", async () => {
  const { status, stdout } = await railfault(
    "capture",
    demo("shorted-pass-transistor-synthetic-tab.txt"),
    "--json",
    "--limits",
    "12 V",
  );
  const found = JSON.parse(stdout);
  expect(found).toMatchObject({ format: "railfault-capture 1", status: "judged", exitStatus: 1, issues: [] });
  expect(status).toBe(1);
  expect(found.layout).toMatchObject({ delimiter: "\t", time: null });
  expect(found.layout.interval).toBeCloseTo(2e-7, 15);
  expect(found.judgement.channels[0].highest.minus).toBeGreaterThan(0);
});

test("a layout is corrected in words", async () => {
  const path = file("raw.txt", "1\t0.01\t7\n2\t0.02\t8\n3\t0.04\t6\n4\t0.01\t9\n");
  const { status, stdout } = await railfault(
    "capture",
    path,
    "--time",
    "none",
    "--interval",
    "2",
    "us",
    "--channel",
    "2: lead, shunt 1 mohm, inverted; 3: radio, 10×, offset 1 V, deskew 1 us",
    "--json",
  );
  expect(status).toBe(0);
  const { layout, judgement } = JSON.parse(stdout);
  expect(layout).toMatchObject({ time: null, interval: 2e-6 });
  expect(judgement.channels).toMatchObject([
    { name: "lead", unit: "A", lowest: { value: -40 } },
    { name: "radio", unit: "V", highest: { value: 80, time: 5e-6 } },
  ]);
});

test("a name in a file moves no cursor", async () => {
  const rows = Array.from({ length: 200 }, (_, k) => `${k},${k % 5}`).join("\n");
  const path = file("escape.csv", `made by \u001b[31mred\ntime (s),\u001b[2Jradio\u202e (V)\n${rows}\n`);
  const { status, stdout } = await railfault("capture", path);
  expect(status).toBe(0);
  expect(stdout).toContain("[2Jradio");
  for (const mark of ["\u001b", "\u202e"]) expect(stdout).not.toContain(mark);
});

describe("what is refused, with status 2 and nothing printed", () => {
  test.each<[what: string, words: string[], said: RegExp[]]>([
    ["no file", [join(folder, "none.csv")], [/there is no such file/]],
    ["a folder", [folder], [/is a folder/]],
    ["text that is no table", [file("letter.csv", "Dear club,\nall is well.\n")], [/no table of numbers/, /help:/]],
    [
      "several mistakes at once",
      [file("bad.csv", "t,U\n0,1\n1,x\n2,y\n3,4\n4,5\n")],
      [/bad\.csv:3:3: error/, /bad\.csv:4:3: error/, /2 errors/, /channel 2: U, V/],
    ],
    [
      "corrections, all at once",
      ["x.csv", "--limits", "high", "--interval", "2 V", "--channel", "radio; 2: V, what, ever"],
      [/limits: error/, /interval: error/, /channel: error/, /4 errors/],
    ],
    [
      "limits the wrong way round",
      ["x.csv", "--limits", "15.9…11.7 V"],
      [/lower limit is not below the upper one/, /received: 15\.9…11\.7 V/, /allowed: +the lower one first/],
    ],
    ["an option unknown", ["x.csv", "--limit", "12 V"], [/did you mean --limits/]],
  ])("%s", async (_, words, said) => {
    const { status, stdout, stderr } = await railfault("capture", ...words);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    for (const pattern of said) expect(stderr).toMatch(pattern);
    expect(stderr).not.toMatch(/mistake of the program/);
  });
});
