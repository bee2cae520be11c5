import { afterAll, expect, test } from "vitest";
import { threadCrew } from "../../packages/sim/src/cli/threads/crew.ts";
import { ownThread } from "../../packages/sim/src/study/pool/own-thread.ts";
import { collect } from "../../packages/sim/src/study/spread/collect.ts";
import { USUAL_OPTIONS } from "../../packages/sim/src/study/spread/options.ts";
import { collectedData } from "../../packages/sim/src/study/spread/part-file.ts";
import { railfault, workshop } from "../cli/launch.ts";
import { SPREADS, scattered } from "../study/spread/scattered.ts";

const { file, close } = workshop();
afterAll(close);
const text = scattered(SPREADS);
const line = file("hut.yaml", text);
const small = ["--samples", "24", "--corners", "2", "--threads", "2"];

test.each([1, 4])("tolerances: the same numbers from %d threads as from this one", async (size) => {
  const numbers = async (crew: typeof ownThread): Promise<string> => {
    const answer = await collect(text, "hut.yaml", { ...USUAL_OPTIONS, samples: 40, seed: 11, corners: 2 }, crew);
    if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("\n"));
    return JSON.stringify(collectedData(answer.collected));
  };
  expect(await numbers(threadCrew(size))).toBe(await numbers(ownThread));
});

test("tolerances: parts put together are what one machine gives", async () => {
  const whole = await railfault("tolerances", line, ...small, "--json");
  const parts: string[] = [];
  for (const index of [1, 2]) {
    const { stdout, status } = await railfault("tolerances", line, ...small, "--part", `${index}/2`, "--json");
    expect([0, 1]).toContain(status);
    parts.push(file(`part-${index}.json`, stdout));
  }
  const merged = await railfault("tolerances", "--merge", ...parts, "--json");
  expect(merged.stdout).toBe(whole.stdout);
  expect(merged.status).toBe(whole.status);
  expect(JSON.parse(whole.stdout)).toMatchObject({ format: "railfault-tolerances 1", status: "answered" });
  const [one] = parts;
  const missing = await railfault("tolerances", "--merge", one);
  expect(missing.status).toBe(2);
  expect(missing.stderr).toContain("missing: 2");
});
