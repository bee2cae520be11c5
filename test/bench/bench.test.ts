import { describe, expect, test } from "vitest";
import { readBenchOptions } from "../../packages/sim/bench/options.ts";
import type { Findings } from "../../packages/sim/bench/report.ts";
import { bench } from "../support/bench-command.ts";

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
