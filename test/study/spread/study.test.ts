import { beforeAll, describe, expect, test } from "vitest";
import { threadCrew } from "../../../packages/sim/src/cli/threads/crew.ts";
import { parseScenario, runScenario } from "../../../packages/sim/src/index.ts";
import { ownThread } from "../../../packages/sim/src/study/pool/own-thread.ts";
import { type Collected, collect } from "../../../packages/sim/src/study/spread/collect.ts";
import { USUAL_OPTIONS } from "../../../packages/sim/src/study/spread/options.ts";
import {
  collectedData,
  mergeParts,
  type ReadPart,
  readPart,
  TOLERANCES_FORMAT,
} from "../../../packages/sim/src/study/spread/part-file.ts";
import { reproduce, summarise, type Told } from "../../../packages/sim/src/study/spread/summary.ts";
import { SPREADS, scattered } from "./scattered.ts";

const text = scattered(SPREADS);
const options = { ...USUAL_OPTIONS, samples: 40, seed: 11, corners: 2 };

async function run(crew = ownThread, part = options.part, given = text, samples = options.samples): Promise<Collected> {
  const answer = await collect(given, "hut.yaml", { ...options, samples, part }, crew);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("\n"));
  return answer.collected;
}

const numbers = (collected: Collected): string => JSON.stringify(collectedData(collected));

let whole: Collected;
beforeAll(async () => {
  whole = await run();
});

describe("the same numbers", () => {
  /** From one and from four in test/deep. */
  test("from two threads as from this one", async () => {
    expect(numbers(await run(threadCrew(2)))).toBe(numbers(whole));
  }, 120_000);

  test("from three parts put together, in whatever order they come, through their files", async () => {
    const parts: ReadPart[] = [];
    for (const index of [3, 1, 2]) {
      const runs = collectedData(await run(ownThread, { index, of: 3 }));
      const file = JSON.stringify({ format: TOLERANCES_FORMAT, version: "1", status: "answered", runs });
      const part = readPart(`${index}.json`, file);
      if (part !== null) parts.push(part);
    }
    const merged = mergeParts(parts);
    if (!("samples" in merged)) throw new Error(merged.map(({ message }) => message).join("\n"));
    expect(numbers(merged)).toBe(numbers(whole));
    expect(summarise(merged)).toEqual(summarise(whole));
  });

  test("but not with another seed", async () => {
    const other = await collect(text, "hut.yaml", { ...options, seed: 12 }, ownThread);
    expect(other.kind === "collected" && numbers(other.collected)).not.toBe(numbers(whole));
  });
});

test("parts that do not belong together are refused with what is missing", async () => {
  const one = {
    name: "a.json",
    version: "1",
    collected: { ...whole, options: { ...options, part: { index: 1, of: 4 } } },
  };
  const issues = mergeParts([one, { ...one, name: "b.json" }]);
  expect(issues).toMatchObject([
    { path: "b.json", message: "Part 1 of 4 stands in two files." },
    { message: "3 parts are missing.", allowed: "all of them; missing: 2, 3, 4" },
  ]);
  const other = { ...one, name: "c.json", version: "2", collected: { ...one.collected, text: "other" } };
  expect(mergeParts([one, other])).toMatchObject([
    { path: "c.json", received: "2", allowed: "1" },
    { path: "c.json", allowed: "the same text" },
  ]);
  expect(readPart("x", "{}")).toBeNull();
  expect(readPart("x", "no json")).toBeNull();
});

describe("what it says", () => {
  test("counts, interval and quantiles are those of the runs", () => {
    const { endangered, peak, outcomes, samples } = summarise(whole);
    const above = whole.samples.share.filter((each) => each > 1).length;
    expect(above).toBeGreaterThan(0);
    expect(above).toBeLessThan(samples);
    expect(endangered).toMatchObject({ count: above, of: 40 });
    expect(outcomes.reduce((sum, { chance }) => sum + chance.count, 0)).toBe(40);
    expect(peak?.quantiles.find(({ probability }) => probability === 0.5)?.value).toBeCloseTo(
      0.5 * (whole.samples.peak.toSorted()[19] + whole.samples.peak.toSorted()[20]),
      12,
    );
  });

  test("the trip voltage matters most, and it is among the corners", () => {
    const { influences, corners } = summarise(whole);
    expect(influences[0].label).toBe("crowbar: trip voltage");
    expect(influences[0].withPeak).toBeGreaterThan(0.9);
    expect(corners.labels[0]).toBe("crowbar: trip voltage");
    expect(corners.count).toBe(4);
  });

  test("worst sample and worst corner, written as files, give the very same peak", () => {
    const { worst, corners } = summarise(whole);
    const { spreads } = parseScenario(text, "hut.yaml");
    for (const told of [worst, corners.worst]) {
      const file = reproduce(text, told as Told, spreads);
      expect(file).not.toContain("tolerances");
      const answer = runScenario(file, "worst.yaml", { record: false });
      if (answer.kind === "refused") throw new Error("refused");
      expect(answer.run.loads[0].peak.value).toBe(told?.peak);
    }
    expect(worst?.outcome).toBe("load above its maximum, within what it stands");
  });
});

test("a linear line has the distribution that its spread gives it", async () => {
  // No protector, no radio: the load sees a fixed share of the end voltage, which is drawn evenly from 15 to 17 V; its maximum is passed
  // by the upper 30 %.
  const line = (endVoltage: string, rest: string) => `title: divider
question: How often?
fault at: 1 ms
run for: 60 ms
sources:
  - name: bench
    part: linear supply 20 A
    fault: {kind: voltage turned up, end voltage: ${endVoltage}, slew: 200 V/s}
    lead: {resistance: 50 mohm, inductance: 1 uH, area: 4 mm2}
loads:
  - {name: dummy load, kind: resistive, resistance: 10 ohm, input capacitance: 1 uF, esr: 10 mohm, limits: {minimum: 0 V, maximum: 16.4 V}, lead: {resistance: 50 mohm, inductance: 1 uH, area: 4 mm2}}
${rest}`;
  const peakAt = (end: string): number => {
    const answer = runScenario(line(end, ""), "divider.yaml", { record: false });
    if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("\n"));
    return answer.run.loads[0].peak.value;
  };
  const [low, high] = [peakAt("15 V"), peakAt("17 V")];
  const share = (16.4 - low) / (high - low);
  const collected = await run(
    ownThread,
    options.part,
    line("16 V", "tolerances: {bench.fault.end voltage: 15…17 V}\n"),
    200,
  );
  const { endangered, peak } = summarise(collected);
  // Four times the standard error to either side of what is known.
  const error = Math.sqrt((share * (1 - share)) / 200);
  expect(Math.abs((endangered?.share ?? 0) - (1 - share))).toBeLessThan(4 * error);
  for (const { probability, value } of peak?.quantiles ?? []) {
    const deviation = Math.sqrt((probability * (1 - probability)) / 200) * (high - low);
    expect(Math.abs(value - (low + probability * (high - low)))).toBeLessThan(4 * deviation + 1e-3);
  }
});
