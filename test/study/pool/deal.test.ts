import { describe, expect, test } from "vitest";
import { startThreads } from "../../../packages/sim/src/cli/threads/pool.ts";
import { batchesOf, Cancelled, type Crew, deal, type Progress } from "../../../packages/sim/src/study/pool/deal.ts";
import type { Batch, BatchResult } from "../../../packages/sim/src/study/pool/evaluate.ts";
import { OUTCOMES } from "../../../packages/sim/src/study/pool/outcome.ts";

const fine = ({ first, values }: Batch): BatchResult => ({
  first,
  outcomes: new Uint8Array(values.length).fill(11),
  close: new Uint8Array(values.length),
  figures: new Float64Array(values.length),
  broken: [],
});

function crewOf(run: (batch: Batch) => BatchResult): Crew {
  return { size: 2, run: async (batch) => run(batch), close: async () => {} };
}

const ask = (crew: Crew, take: (result: BatchResult) => void, hooks = {}) =>
  deal(
    batchesOf(100, 50, (index) => [index], 8),
    1,
    50,
    crew,
    take,
    hooks,
  );

describe("dealing", () => {
  test("hands out every vector once and tells how far it is", async () => {
    const seen: number[] = [];
    const told: Progress[] = [];
    const crew = crewOf((batch) => {
      seen.push(...batch.values);
      return fine(batch);
    });
    await ask(crew, () => {}, { progress: (progress: Progress) => told.push(progress) });
    expect(seen.toSorted((a, b) => a - b)).toEqual(Array.from({ length: 50 }, (_, k) => 100 + k));
    expect(told.at(-1)).toMatchObject({ done: 50, total: 50, left: 0 });
    expect(told.map(({ done }) => done)).toEqual(told.map(({ done }) => done).toSorted((a, b) => a - b));
  });

  test("loses only the vector whose worker breaks down, and goes on", async () => {
    const results: BatchResult[] = [];
    const crew = crewOf((batch) => {
      if (batch.values.includes(117)) throw new Error("out of memory");
      return fine(batch);
    });
    await ask(crew, (result) => results.push(result));
    expect(results.reduce((sum, { outcomes }) => sum + outcomes.length, 0)).toBe(50);
    expect(results.flatMap(({ broken }) => broken)).toEqual([
      { index: 117, kind: "crashed", message: "out of memory" },
    ]);
    const lost = results.find(({ first, outcomes }) => first === 117 && outcomes.length === 1);
    expect(lost && OUTCOMES[lost.outcomes[0]]).toBe("no verdict");
  });

  test("ends once it is cancelled", async () => {
    const controller = new AbortController();
    let taken = 0;
    const asked = ask(
      crewOf(fine),
      () => {
        taken += 1;
        if (taken === 2) controller.abort();
      },
      { signal: controller.signal },
    );
    await expect(asked).rejects.toBeInstanceOf(Cancelled);
    expect(taken).toBeLessThan(6);
  });

  test("cancelled while the last result is taken, it has not ended well", async () => {
    const controller = new AbortController();
    let taken = 0;
    const crew = crewOf(fine);
    // 50 vectors by 8.
    const take = () => {
      if (++taken === 7) controller.abort();
    };
    await expect(ask(crew, take, { signal: controller.signal })).rejects.toBeInstanceOf(Cancelled);
  });
});

describe("threads", () => {
  const module = new URL("./trying.ts", import.meta.url);
  const threads = () => startThreads<string, { kind: string; value: number }, string>(module, "hello", 2);

  test("load a module once and go on after a task that breaks, or wants to end its thread", async () => {
    const pool = threads();
    try {
      expect(await pool.run({ kind: "say", value: 1 }, null)).toBe("hello 1");
      await expect(pool.run({ kind: "throw", value: 2 }, null)).rejects.toThrow("no 2");
      await expect(pool.run({ kind: "exit", value: 3 }, null)).rejects.toThrow("wanted to end itself with 3");
      expect(await pool.run({ kind: "say", value: 4 }, null)).toBe("hello 4");
    } finally {
      await pool.close();
    }
  }, 60_000);

  test("end in the middle of their work", async () => {
    const pool = threads();
    try {
      await pool.run({ kind: "say", value: 1 }, null);
      const controller = new AbortController();
      const asked = pool.run({ kind: "for ever", value: 0 }, controller.signal);
      setTimeout(() => controller.abort(), 50);
      await expect(asked).rejects.toThrow();
      expect(await pool.run({ kind: "say", value: 5 }, null)).toBe("hello 5");
    } finally {
      await pool.close();
    }
  }, 60_000);
});
