import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readBenchOptions } from "../../packages/sim/bench/options.ts";
import type { Findings } from "../../packages/sim/bench/report.ts";
import { root } from "../ground/source.ts";

// As `npm run bench` starts it: the task has installed what is missing by then.
function bench(...words: string[]): { status: number | null; stdout: string; stderr: string } {
  const task = join(root, ".ci/task.mjs");
  const { status, stdout, stderr } = spawnSync(process.execPath, [task, "bench", ...words], { encoding: "utf8" });
  return { status, stdout, stderr };
}

const minutes = 60_000;

describe("the bench", () => {
  test(
    "measures one case cold and warm, and random faults on two threads",
    () => {
      const { status, stdout, stderr } = bench("--cases", "ae", "--repeat", "2", "--faults", "6", "--json");
      expect(stderr).not.toMatch(/error/i);
      expect(status).toBe(0);
      const found = JSON.parse(stdout) as Findings;
      expect(found.measured.map(({ id, by }) => [id, by])).toEqual([["a", "Railfault"]]);
      const [own] = found.measured;
      expect(own.repeated).toBe(2);
      expect(own.coldMs).toBeGreaterThan(0);
      expect(own.warmMs).toBeGreaterThan(0);
      expect(own.addedMegabytes).toBeGreaterThanOrEqual(0);
      expect(own.peakMegabytes).toBeGreaterThan(10);
      expect(own.work.events).toBe(5);
      expect(own.work.evaluations).toBeGreaterThan(own.work.steps ?? Number.POSITIVE_INFINITY);
      expect(found.faults).toMatchObject({ workers: 2, warm: { faults: 6, failed: [] } });
      expect(found.faults?.warm.runMs).toBeGreaterThan(0);
    },
    3 * minutes,
  );

  test(
    "measures tolerances and a plane, and says that threads change no number",
    () => {
      const { status, stdout } = bench("--cases", "g", "--samples", "20", "--json");
      expect(status).toBe(0);
      const { studies } = JSON.parse(stdout) as Findings;
      expect(studies).toMatchObject({ samples: 20, workers: 2, same: [1, 2, 4], plane: { isComplete: true } });
      expect(studies?.plane.simulations).toBeLessThanOrEqual(1000);
      expect(studies?.comparison.variants).toBe(8);
      expect(studies?.peakMegabytes).toBeGreaterThan(50);
    },
    5 * minutes,
  );

  test(
    "compares random faults with finer runs",
    () => {
      const { status, stdout } = bench("--cases", "e", "--faults", "2", "--check");
      expect(status).toBe(0);
      expect(stdout).toContain("Against runs at 1e-10: 100.0 % tell the same events; of 0 that do not, 0 were called");
    },
    3 * minutes,
  );

  test("helps, and refuses what it does not know", () => {
    expect(bench("--help")).toMatchObject({ status: 0, stdout: expect.stringContaining("--peers") });
    const [refused, told] = [bench("--cases", "x"), "--cases takes letters from a to g, received x"];
    expect(refused).toMatchObject({ status: 2, stderr: expect.stringContaining(told) });
    // What is refused in which words needs no process of its own.
    expect(readBenchOptions(["--cases", "x"])).toEqual({ problem: expect.stringContaining(told) });
    expect(readBenchOptions(["--repeat", "0"])).toEqual({
      problem: expect.stringContaining("--repeat takes a whole number of at least 1, received 0"),
    });
    for (const words of [["--loud"], ["--json", "--markdown"]])
      expect(readBenchOptions(words)).toEqual({ problem: expect.any(String) });
  });
});
