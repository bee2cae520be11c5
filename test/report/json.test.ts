import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { csvLines } from "../../packages/sim/src/report/csv.ts";
import { resultData, resultJson } from "../../packages/sim/src/report/json.ts";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { station } from "../cli/launch.ts";
import { root } from "../ground/files.ts";

const page = readFileSync(join(root, "packages/sim/docs/result-format.md"), "utf8");
const words = new Set([...page.matchAll(/`([^`]+)`/g)].map(([, word]) => word));
const origin = { file: "a.yaml", version: "1.2.3", options: { method: null, tolerance: null, until: null } };

/** Keys whose entries are named by the line, not by the form. */
const free = new Set(["operatingPoint", "byDevice", "atEnd", "mean", "rms"]);

function undocumented(value: unknown, within = ""): string[] {
  if (Array.isArray(value)) return value.flatMap((each) => undocumented(each, within));
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    // The complete scenario is described by the types of the library, not by this page.
    if (key === "scenario") return [];
    const here = free.has(within) || words.has(key) ? [] : [key];
    return [...here, ...undocumented(inner, key)];
  });
}

const folder = join(root, "packages/sim/scenarios");

describe("every key of the result of", () => {
  test.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))("%s is documented", (name) => {
    const result = runScenario(readFileSync(join(folder, name), "utf8"), name);
    expect(result.kind).toBe("answered");
    const data = JSON.parse([...resultJson(resultData(result, origin), null)].join(""));
    expect(undocumented(data)).toEqual([]);
  });

  test("a refused file is documented", () => {
    const data = resultData(runScenario("title: x\n", "a.yaml"), origin);
    expect(data).toMatchObject({ status: "refused", exitStatus: 2, format: "railfault-result 1" });
    expect(undocumented(data)).toEqual([]);
  });

  test("a run that failed is documented", () => {
    const data = resultData(runScenario(station(), "a.yaml", { maxSteps: 100 }), origin);
    expect(data).toMatchObject({ status: "no verdict", exitStatus: 3, run: { outcome: { status: "failed" } } });
    expect(undocumented(data)).toEqual([]);
  });
});

test("the page is not written about keys that nobody gives any more", () => {
  const seen = new Set<string>();
  const collect = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(collect);
    else if (typeof value === "object" && value !== null) {
      for (const [key, inner] of Object.entries(value)) {
        seen.add(key);
        collect(inner);
      }
    }
  };
  for (const [name, options] of [
    ["02-hiccup-supply.yaml", {}],
    ["10-clamp-only.yaml", {}],
    ["11-series-transistor.yaml", {}],
    ["22-supplys-own-scr.yaml", {}],
    ["02-hiccup-supply.yaml", { maxSteps: 1000 }],
  ] as const) {
    const text = readFileSync(join(folder, name), "utf8");
    collect(resultData(runScenario(text, name, options), origin));
  }
  const tables = page.split("## CSV")[0].matchAll(/^\| (`\w+`(?:, `\w+`)*) \|/gm);
  const documented = [...tables].flatMap(([, cell]) => cell.replaceAll("`", "").split(", "));
  expect(documented.length).toBeGreaterThan(40);
  expect(documented.filter((key) => !seen.has(key) && key !== "trace")).toEqual([]);
});

test("a trace stands at the end, column by column", () => {
  const trace = {
    time: Float64Array.of(0, 0.1, 0.1),
    columns: [{ name: 'odd "name", V', unit: "V", values: Float64Array.of(1 / 3, -0, 5e-324) }],
  };
  const refused = resultData(runScenario("title: x\n", "a.yaml"), origin);
  const data = JSON.parse([...resultJson(refused, trace)].join(""));
  expect(data).toEqual({
    ...JSON.parse(JSON.stringify(refused)),
    trace: {
      columns: [
        { name: "time_s", unit: "s", values: [0, 0.1, 0.1] },
        { name: 'odd "name", V', unit: "V", values: [1 / 3, 0, 5e-324] },
      ],
    },
  });
});

test("CSV after RFC 4180: quotes where they are needed, CR LF, no more digits than anything is known to", () => {
  const trace = {
    time: Float64Array.of(0, 0.1 + 0.2),
    columns: [
      { name: 'odd "name", V', unit: "V", values: Float64Array.of(1 / 3, 5e-324) },
      { name: "plain_A", unit: "A", values: Float64Array.of(1e21, -2) },
    ],
  };
  expect([...csvLines(trace)]).toEqual([
    'time_s,"odd ""name"", V",plain_A\r\n',
    "0,0.333333333,1e+21\r\n",
    "0.3,5e-324,-2\r\n",
  ]);
});

test("CSV counts from the fault too, and its times tell every two rows apart", () => {
  const time = Float64Array.of(0, 0.005, 0.005, 0.005 + 2e-13, 0.0050237, 7932.06, 7932.06 + 1e-9);
  const rows = [...csvLines({ time, columns: [] }, { time: 0.005, what: "fault" })].map((row) =>
    row.trimEnd().split(","),
  );
  expect(rows[0]).toEqual(["time_s", "time_after_fault_s"]);
  const written = rows.slice(1).map((row) => row.map(Number));
  expect(rows[5]).toEqual(["0.0050237", "0.0000237"]);
  expect(written[0]).toEqual([0, -0.005]);
  for (const [i, [start, after]] of written.entries()) {
    expect(Math.abs(start - time[i])).toBeLessThanOrEqual(1e-9 * time[i]);
    if (i === 0) continue;
    const order = Math.sign(time[i] - time[i - 1]);
    expect([Math.sign(start - written[i - 1][0]), Math.sign(after - written[i - 1][1])]).toEqual([order, order]);
  }
  expect([...csvLines({ time, columns: [] }, { time: 0, what: "start" })][0]).toBe("time_s,time_after_start_s\r\n");
});
