import { describe, expect, test } from "vitest";
import { readBenchOptions } from "../../packages/sim/bench/options.ts";
import { bench } from "../support/bench-command.ts";

describe("the bench", () => {
  test("refuses what it does not know", () => {
    const told = "--cases takes letters from a to g, received x";
    expect(bench("--cases", "x")).toMatchObject({ status: 2, stderr: expect.stringContaining(told) });
    // What is refused in which words needs no process of its own.
    expect(readBenchOptions(["--cases", "x"])).toEqual({ problem: expect.stringContaining(told) });
    expect(readBenchOptions(["--repeat", "0"])).toEqual({
      problem: expect.stringContaining("--repeat takes a whole number of at least 1, received 0"),
    });
    for (const words of [["--loud"], ["--json", "--markdown"]])
      expect(readBenchOptions(words)).toEqual({ problem: expect.any(String) });
  });
});
