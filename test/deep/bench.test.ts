import { expect, test } from "vitest";
import type { Findings } from "../../packages/sim/bench/report.ts";
import { bench } from "../support/bench-command.ts";

test("the bench measures tolerances and a plane, and says that threads change no number", () => {
  const { status, stdout } = bench("--cases", "g", "--samples", "20", "--json");
  expect(status).toBe(0);
  const { studies } = JSON.parse(stdout) as Findings;
  expect(studies).toMatchObject({ samples: 20, workers: 2, same: [1, 2, 4], plane: { isComplete: true } });
  expect(studies?.plane.simulations).toBeLessThanOrEqual(1000);
  expect(studies?.comparison.variants).toBe(8);
  expect(studies?.peakMegabytes).toBeGreaterThan(50);
}, 300_000);

test("the bench compares random faults with finer runs", () => {
  const { status, stdout } = bench("--cases", "e", "--faults", "2", "--check");
  expect(status).toBe(0);
  expect(stdout).toContain("Against runs at 1e-10: 100.0 % tell the same events; of 0 that do not, 0 were called");
}, 180_000);

test("the bench measures one case cold and warm, and random faults on two threads", () => {
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
}, 180_000);

test("the bench helps", () => {
  expect(bench("--help")).toMatchObject({ status: 0, stdout: expect.stringContaining("--peers") });
});
