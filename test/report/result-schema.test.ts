import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import * as z from "zod";
import { resultSchema, resultSchemaFile } from "../../packages/sim/scripts/result-schema.ts";
import { RESULT_FORMAT, resultData, resultJson } from "../../packages/sim/src/report/json.ts";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { filesBelow, root } from "../ground/files.ts";

const folder = join(root, "packages/sim/scenarios");
const text = readFileSync(resultSchemaFile, "utf8");
const schema = z.fromJSONSchema(JSON.parse(text));
const origin = { file: "a.yaml", version: "0.0.0", options: { method: null, tolerance: null, until: null } };

function printed(scenario: string, trace = false): Record<string, unknown> {
  // The first milliseconds of a fault hold every key; what comes later costs time.
  const faultTime = parseScenario(scenario, "a.yaml").scenario?.faultTime ?? 0;
  const result = runScenario(scenario, "a.yaml", { until: faultTime + 2e-3 });
  const waveforms = trace && result.kind === "answered" ? result.run.trace : null;
  return JSON.parse([...resultJson(resultData(result, origin), waveforms)].join("")) as Record<string, unknown>;
}

const wrong = (document: unknown): string[] =>
  (schema.safeParse(document).error?.issues ?? []).map(({ path, message }) => `${path.join(".")}: ${message}`);

test("is what the types say; else run: npx tsx packages/sim/scripts/result-schema.ts", () => {
  expect(JSON.parse(text)).toEqual(resultSchema());
}, 60_000);

test("names the form that results name", () => {
  expect(text).toContain(`"const": "${RESULT_FORMAT}"`);
});

describe("results of the shipped scenarios keep to it", () => {
  test.each(filesBelow(folder, [".yaml"]))("%s", (name) => {
    const document = printed(readFileSync(join(folder, name), "utf8"), true);
    expect(document.status).not.toBe("refused");
    expect(wrong(document)).toEqual([]);
  });

  test("a refusal too", () => {
    expect(wrong(printed("title: x\n"))).toEqual([]);
  });
});

describe("it refuses", () => {
  const good = printed(readFileSync(join(folder, "01-shorted-pass-transistor.yaml"), "utf8"));
  const run = good.run as Record<string, unknown>;

  test.each([
    ["another form", { ...good, format: "railfault-result 2" }],
    ["a key that went away", { ...good, verdict: undefined }],
    ["a key of another kind", { ...good, file: 3 }],
    [
      "a number that became a text deep inside",
      { ...good, run: { ...run, energy: { ...(run.energy as object), fed: "1 J" } } },
    ],
    ["an unknown word", { ...good, status: "perhaps" }],
  ])("%s", (_, document) => {
    expect(wrong(document).length).toBeGreaterThan(0);
  });

  test("but not a key that came later", () => {
    expect(wrong({ ...good, mood: "good" })).toEqual([]);
  });
});
