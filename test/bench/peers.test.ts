import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { disagreement, type Told, toldBy } from "../../packages/sim/bench/agreement.ts";
import { allCases, scenarioOf } from "../../packages/sim/bench/cases.ts";
import { flattened } from "../../packages/sim/bench/flat.ts";
import { runOnce } from "../../packages/sim/bench/measure.ts";
import { compile, findPeers } from "../../packages/sim/bench/peers.ts";

const [blown] = allCases();
const run = runOnce(scenarioOf(blown));
const minute = 60_000;

describe("the peers", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "railfault-peers-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test(
    "compile without a warning where gcc and the library are",
    ({ skip }) => {
      const program = compile(folder);
      if (program === null) {
        process.stderr.write("\nSKIPPED: the peer in C (no gcc, or no libsundials-dev).\n");
        skip();
      }
      expect(program).toContain(folder);
    },
    minute,
  );

  test(
    "tell the same story of a blown fuse, as far as they are installed",
    () => {
      const peers = findPeers();
      for (const each of peers.missing) process.stderr.write(`\nSKIPPED: ${each}.\n`);
      const told = peers.measure(blown, run, 1);
      peers.close();
      // CVODE once, SciPy by two methods.
      expect(told.length).toBe(3 - peers.missing.reduce((sum, each) => sum + (each.startsWith("SciPy") ? 2 : 1), 0));
      for (const { warmMs, work } of told) {
        expect(warmMs).toBeGreaterThan(0);
        expect(work.events).toBe(run.events.length);
      }
    },
    2 * minute,
  );
});

describe("agreement before any time is compared", () => {
  const own = toldBy(run);
  const later = (k: number, by: number): Told => ({
    ...own,
    events: own.events.map((event, j) => (j === k ? { ...event, sincePrevious: event.sincePrevious + by } : event)),
  });

  test("rounds that were leapt over: what stands before and behind is held against the others, and every integral", () => {
    const event = (time: number, what: string, sincePrevious = 1) => ({ time, sincePrevious, what });
    const every = ["fires", "stops", "fires", "stops", "fires", "stops"].map((what, k) => event(k + 1, what));
    const leapt = [every[0], event(2.4, "/line: repeats itself", 1.4), { ...every[4], sincePrevious: 2.6 }, every[5]];
    const integrals = { fed: 10 };
    const whole = { events: every, integrals };
    expect(disagreement({ events: leapt, integrals }, whole)).toBeNull();
    expect(disagreement({ events: leapt, integrals: { fed: 10.1 } }, whole)).toContain("fed");
    expect(disagreement({ events: leapt, integrals }, { ...whole, events: every.slice(0, -1) })).toContain("event 1");
    expect(disagreement({ events: leapt, integrals }, { ...whole, events: every.slice(1) })).toContain("event 1");
    const late = every.with(5, { ...every[5], sincePrevious: 1.1 });
    expect(disagreement({ events: leapt, integrals }, { ...whole, events: late })).toContain("event 2");
  });

  test("a run agrees with itself", () => {
    expect(disagreement(own, own)).toBeNull();
    expect(Object.keys(own.integrals)).toContain("I2t of main fuse");
  });

  test("an event that comes late, one too many and a wrong one are told", () => {
    expect(disagreement(own, later(1, 0.9e-6))).toBeNull();
    expect(disagreement(own, later(1, 1.1e-6))).toContain("/crowbar: fires");
    expect(disagreement(own, later(2, 0.9e-3 * own.events[2].sincePrevious))).toBeNull();
    expect(disagreement(own, later(2, 1.1e-3 * own.events[2].sincePrevious))).toContain("/main fuse: melts");
    expect(disagreement(own, { ...own, events: own.events.slice(1) })).toContain("event 1");
    expect(disagreement({ ...own, events: own.events.slice(0, -1) }, own)).toContain("none here");
  });

  test.each(Object.entries(own.integrals))("a wrong %s is told", (name, value) => {
    const small = 1e-6 * own.integrals["turned over"];
    const other = { ...own, integrals: { ...own.integrals, [name]: value * 1.002 + 2 * small } };
    expect(disagreement(own, other)).toContain(name);
  });
});

test("the line that peers read is the whole scenario", () => {
  const lines = flattened(run.scenario, run.operatingPoint, 1e-6).split("\n");
  expect(lines).toContain("tolerance\t0.000001");
  expect(lines).toContain(`endTime\t${run.scenario.endTime}`);
  expect(lines).toContain(`sources.0.lead.inductance\t${run.scenario.sources[0].lead.inductance}`);
  expect(lines).toContain("clamp\tnull");
  expect(lines.filter((line) => line.startsWith("start.")).length).toBe(Object.keys(run.operatingPoint).length);
});
