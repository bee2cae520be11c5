import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import { afterAll, describe, expect, test } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { renderText } from "../../packages/sim/src/report/text.ts";
import { root } from "../ground/files.ts";
import { NONE, railfault, shipped, station, unwrapped, WEAK, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const small = file("small.yaml", station());

describe("exit status", () => {
  test("0: the radio is safe and nothing went beyond its rating; a blown fuse did its work", async () => {
    const { status, stdout, stderr } = await railfault("run", small);
    expect(stdout).toContain("The relay radio never saw more than");
    expect(unwrapped(stdout)).toMatch(/main fuse .* melted/);
    expect(stdout).toContain("How well the fuse models meet their published points");
    expect(stderr).toBe("");
    expect(status).toBe(0);
  });

  test("1: the radio is endangered", async () => {
    const { status, stdout } = await railfault("run", file("bare.yaml", station({ protector: NONE })));
    expect(unwrapped(stdout)).toContain("beyond what it stands");
    expect(status).toBe(1);
  });

  test("2: bad input gives no verdict", async () => {
    const bad = await railfault("run", join(root, "test/scenario/broken/01-units.yaml"));
    expect(bad.status).toBe(2);
    expect(bad.stdout).toBe("");
    expect(bad.stderr).toMatch(/01-units\.yaml:\d+:\d+: error: /);
  });

  test("2: a healthy line without an operating point is refused at its place in the file", async () => {
    const { status, stdout, stderr } = await railfault("run", file("far.yaml", station({ lead: "900 m" })));
    expect(stdout).toBe("");
    expect(stderr).toMatch(/far\.yaml:13:5: error: .*\[starved-at-rest\]/);
    expect(stderr).toContain("  13 |   - name: relay radio");
    expect(status).toBe(2);
  });

  test("3: a run whose energy does not close is no verdict", async () => {
    // So coarse a tolerance leaves far more than 1e-6 of the energy unaccounted for in repeated tripping.
    const { status, stdout, stderr } = await railfault("run", shipped("02-hiccup-supply.yaml"), "--tolerance", "1e-3");
    expect(unwrapped(stdout)).toContain("No verdict: the energy balance does not close");
    expect(stdout).not.toContain("inside its window");
    expect(stderr).toContain("No verdict");
    expect(status).toBe(3);
  });

  test("4: the radio is safe, something else went beyond its rating", async () => {
    const { status, stdout } = await railfault("run", file("weak.yaml", station({ protector: WEAK })));
    expect(stdout).toContain("The relay radio never saw more than");
    expect(unwrapped(stdout)).toMatch(/outcome is unknown|failed short/);
    expect(status).toBe(4);
  });
});

describe("a run cut short", () => {
  test("says so", async () => {
    const { status, stdout } = await railfault("run", small, "--until", "5", "ms");
    expect(unwrapped(stdout)).toContain("This run was cut at 5 ms; the scenario goes on until 300 ms");
    expect(status).toBe(0);
  });

  test.each([1e-3, 2e-4, 0, -1, Number.NaN, 1])(
    "not to %f s: before the fault, or longer than the scenario",
    (until) => {
      const result = runScenario(station(), "station.yaml", { until });
      expect(result).toMatchObject({
        kind: "refused",
        issues: [{ code: "until-out-of-range", allowed: "later than 1 ms, at most 300 ms" }],
      });
    },
  );

  test("not even from the command", async () => {
    const { status, stdout, stderr } = await railfault("run", small, "--until", "1 ms");
    expect(stdout).toBe("");
    expect(stderr).toContain("allowed:  later than 1 ms, at most 300 ms");
    expect(status).toBe(2);
  });

  test("by the independent method agrees on what happened", async () => {
    const cut = ["--until", "1.05 ms", "--json"];
    const times = async (method: string): Promise<number[]> =>
      JSON.parse((await railfault("run", small, "--method", method, ...cut)).stdout).run.events.map(
        ({ time }: { time: number }) => time,
      );
    const [first, second] = [await times("rodas5p"), await times("odex")];
    expect(first).toHaveLength(2);
    expect(second).toHaveLength(2);
    first.forEach((time, index) => {
      expect(Math.abs(time - second[index])).toBeLessThan(1e-9);
    });
  });
});

describe("files", async () => {
  const paths = { csv: join(folder, "out.csv"), svg: join(folder, "out.svg"), png: join(folder, "out.png") };
  const words = ["--csv", paths.csv, "--svg", paths.svg, "--png", paths.png];
  const { status, stdout, stderr } = await railfault("run", small, ...words, "--json", "--trace");
  const result = JSON.parse(stdout);

  test("are written and named, and leave nothing half-written behind", () => {
    expect(status).toBe(0);
    for (const path of Object.values(paths)) expect(stderr).toContain(`${path} written`);
    expect(readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  test("hold in the CSV the numbers of the JSON trace, and the time after the fault beside its time", () => {
    const text = readFileSync(paths.csv, "utf8");
    expect(text.endsWith("\r\n")).toBe(true);
    const [head, ...rows] = text.trimEnd().split("\r\n");
    const columns: { name: string; unit: string; values: number[] }[] = result.trace.columns;
    const names = head.split(",");
    expect(names.toSpliced(1, 1)).toEqual(columns.map(({ name }) => name));
    expect(head).toMatch(/^time_s,time_after_fault_s,.*relay_radio_V/);
    expect(rows.length).toBeGreaterThan(200);
    const numbers = rows.map((row) => row.split(",").map(Number));
    columns.forEach(({ name, values }) => {
      const at = names.indexOf(name);
      const written = numbers.map((row) => row[at]);
      expect(written.length).toBe(values.length);
      expect(written.filter((value, row) => Math.abs(value - values[row]) > 1e-8 * Math.abs(values[row]))).toEqual([]);
    });
    expect(numbers.every(([start, after]) => Math.abs(start - after - result.scenario.faultTime) < 1e-9)).toBe(true);
    expect(columns[0].values.every((time, row) => row === 0 || time >= columns[0].values[row - 1])).toBe(true);
  });

  test("hold in the SVG a figure that names the radio and its verdict", () => {
    const { document } = new JSDOM(readFileSync(paths.svg, "utf8"), { contentType: "image/svg+xml" }).window;
    expect(document.documentElement.tagName).toBe("svg");
    expect(document.documentElement.namespaceURI).toBe("http://www.w3.org/2000/svg");
    const text = document.documentElement.textContent ?? "";
    expect(text).toContain("relay radio");
    expect(text).toContain("never saw more than");
    expect(document.querySelectorAll("path").length).toBeGreaterThan(3);
  });

  test("hold in the PNG a picture for a slide", () => {
    const bytes = readFileSync(paths.png);
    expect(bytes.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
    expect(bytes.readUInt32BE(16)).toBe(1920);
    expect(bytes.readUInt32BE(20)).toBeGreaterThanOrEqual(1080);
    expect(bytes.length).toBeGreaterThan(10_000);
  });

  test("agree with the JSON result", () => {
    expect(result.format).toBe("railfault-result 1");
    expect(result.status).toBe("judged");
    expect(result.exitStatus).toBe(0);
    expect(result.verdict.loads[0].peak.value).toBe(result.run.loads[0].peak.value);
    expect(result.scenario.sources[0].name).toBe("bench supply");
  });
});

describe("colours", () => {
  test("come where they are asked for, though nothing here is a terminal", async () => {
    expect((await railfault("run", small, "--until", "2 ms", "--color")).stdout).toContain("\u001b[");
    expect((await railfault("run", small, "--until", "2 ms")).stdout).not.toContain("\u001b");
  });
});

test("a solver that gives up is no verdict, and says where and what to try", () => {
  const result = runScenario(station(), "station.yaml", { maxSteps: 150 });
  if (result.kind !== "answered") throw new Error("it was refused");
  const { verdict } = result;
  expect(verdict).toMatchObject({ kind: "not a verdict", exitStatus: 3 });
  expect(verdict).not.toHaveProperty("grade");
  if (verdict.kind !== "not a verdict") return;
  expect(verdict.timeReached).toBeGreaterThan(0);
  expect(verdict.timeReached).toBeLessThan(0.3);
  expect(renderText(verdict)).toContain("What to try");
});
