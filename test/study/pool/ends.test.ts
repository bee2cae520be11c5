import { describe, expect, test } from "vitest";
import { batchesOf, Cancelled, type Crew, deal, type Progress } from "../../../packages/sim/src/study/pool/deal.ts";
import { type BatchResult, Evaluator } from "../../../packages/sim/src/study/pool/evaluate.ts";
import { RUN_FIGURES } from "../../../packages/sim/src/study/pool/figures.ts";
import { OUTCOMES } from "../../../packages/sim/src/study/pool/outcome.ts";
import { ownThread } from "../../../packages/sim/src/study/pool/own-thread.ts";
import { scattered } from "../spread/scattered.ts";

const failing = (error: unknown): Crew => ({
  size: 1,
  run: async () => {
    throw error;
  },
  close: async () => {},
});

describe("work that is dealt out", () => {
  test("is not begun where somebody has ended it already, nor done again where it broke off for that", async () => {
    const signal = { aborted: true };
    const batches = () => batchesOf(0, 2, () => [1]);
    await expect(deal(batches(), 1, 2, failing(new Error("never asked")), () => {}, { signal })).rejects.toThrow(
      Cancelled,
    );
    const raised = { aborted: false };
    const run = async (): Promise<BatchResult> => {
      raised.aborted = true;
      throw new Error("broken off");
    };
    const crew = { ...failing(null), run };
    await expect(deal(batches(), 1, 2, crew, () => {}, { signal: raised })).rejects.toThrow("the study was cancelled");
  });

  test.each([
    [new Error("out of memory"), "out of memory"],
    ["a word", "a word"],
  ])("of which a worker dies is told vector by vector: %s", async (error, message) => {
    const results: BatchResult[] = [];
    const seen: Progress[] = [];
    await deal(
      batchesOf(5, 2, () => [1]),
      1,
      2,
      failing(error),
      (each) => results.push(each),
      { progress: (each) => seen.push(each) },
    );
    expect(results.flatMap(({ broken }) => broken)).toEqual([
      { index: 5, kind: "crashed", message },
      { index: 6, kind: "crashed", message },
    ]);
    expect(results.map(({ outcomes }) => OUTCOMES[outcomes[0]])).toEqual(["no verdict", "no verdict"]);
    expect(seen.map(({ done }) => done)).toEqual([1, 2]);
    expect(seen[1].left).toBe(0);
  });

  test("in this very thread ends as soon as somebody wants it", async () => {
    const crew = ownThread({ text: scattered([]), file: "hut.yaml", varied: [] });
    const batch = { first: 0, values: new Float64Array() };
    await expect(crew.run(batch, { aborted: true })).rejects.toThrow(Cancelled);
    await crew.close();
  });
});

describe("one run", () => {
  test("of a scenario without varied values is that of the scenario itself", () => {
    const found = new Evaluator({ text: scattered([]), file: "hut.yaml", varied: [] }).run({
      first: 0,
      values: new Float64Array(),
    });
    expect(found.outcomes).toHaveLength(1);
    expect(found.broken).toEqual([]);
    // The crowbar trips at 15 V, and the load behind it sees little more.
    expect(found.figures[0]).toBeGreaterThan(14.5);
    expect(found.figures[0]).toBeLessThan(16);
  });

  test("of a scenario that cannot be read is told with its first error", () => {
    const found = new Evaluator({ text: "title: [", file: "hut.yaml", varied: [] }).run({
      first: 7,
      values: new Float64Array(),
    });
    expect(OUTCOMES[found.outcomes[0]]).toBe("cannot be run");
    expect(found.broken).toMatchObject([{ index: 7, kind: "cannot be run" }]);
    expect(found.broken[0].message).not.toBe("");
    expect([...found.figures.subarray(0, RUN_FIGURES.length)].every(Number.isNaN)).toBe(true);
  });
});
