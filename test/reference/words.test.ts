import { describe, expect, test } from "vitest";
import { compareFile, renderReference } from "../../packages/sim/src/reference/compare.ts";
import { put, readCases } from "./put.ts";

type Entry = ReturnType<typeof readCases>[number];
const cases = readCases();

/** What comes of a file of cases, each of them changed. */
function compared(...changes: ((entry: Entry) => void)[]) {
  const changed = changes.map((change) => {
    const entry = structuredClone(cases.find((each) => each.case.name === "middle-of-leads-foldback") as Entry);
    change(entry);
    return entry;
  });
  const report = compareFile(JSON.stringify(changed), { accuracy: "default" });
  return { ...report, lines: renderReference(report).split("\n") };
}

/** Expects nothing but one thing. */
const only =
  (kept: string) =>
  ({ expected }: Entry): void => {
    for (const key of Object.keys(expected)) if (key !== kept) delete expected[key];
  };

describe("the last line of the table", () => {
  test("counts the figures that agree, of one case or of more", () => {
    const { lines, cases: reports, exitStatus } = compared(only("energy"));
    expect(reports[0].figures).toBe(4);
    expect(lines.at(-1)).toBe("All 4 figures of 1 case agree.");
    expect(exitStatus).toBe(0);
    expect(compared(only("energy"), only("energy")).lines.at(-1)).toBe("All 8 figures of 2 cases agree.");
  });

  test("counts those that do not, one or more", () => {
    const fed = (factor: number) => (entry: Entry) => {
      only("energy")(entry);
      const { fed } = entry.expected.energy as { fed: number };
      put(entry.expected, "energy.fed", fed * factor);
    };
    const one = compared(fed(1.01));
    expect(one.lines.at(-1)).toBe("1 of 4 figures falls short.");
    expect(one.exitStatus).toBe(1);
    expect(one.lines.at(-3)).toMatch(/^ {2}falls short: energy fed: expected [\d.]+, found [\d.]+ \(\d+ %\)$/);
    expect(compared(fed(1.01), fed(0.5)).lines.at(-1)).toBe("2 of 8 figures fall short.");
  });

  test("tells of cases that could not be run beside them", () => {
    const impossible = (entry: Entry): void => {
      put(entry.case, "loads.0.I", 1e5);
    };
    const { lines, cases: reports, exitStatus } = compared(only("energy"), impossible);
    expect(reports[1]).toMatchObject({ figures: 0, worst: null, failures: [] });
    expect(lines.find((line) => line.includes("could not be run: "))).toMatch(/cannot carry .* radio gets only /);
    expect(lines.at(-1)).toBe("1 of 2 cases could not be run.");
    expect(exitStatus).toBe(1);
  });

  test("does not pretend that something was compared", () => {
    expect(compared(only("nothing")).lines).toContain("middle-of-leads-foldback        0  nothing to compare");
  });
});

test("ten figures that fall short are told, of more how many they are", () => {
  const { lines, cases: reports } = compared((entry) => {
    only("operating_point")(entry);
    const point = entry.expected.operating_point as Record<string, number>;
    for (const key of Object.keys(point)) point[key] += 5;
  });
  const short = reports[0].failures.length;
  expect(short).toBeGreaterThan(11);
  expect(lines.filter((line) => line.startsWith("  falls short: "))).toHaveLength(10);
  expect(lines).toContain(`  and ${short - 10} more`);
});

test("an expectation longer than a line is cut", () => {
  const { lines } = compared((entry) => {
    only("events")(entry);
    put(entry.expected, "events.0.what", "x".repeat(500));
  });
  const told = lines.find((line) => line.startsWith("  falls short: events in order")) ?? "";
  expect(told).toContain("xxx…, found ");
  expect(told).not.toContain("x".repeat(200));
});

test("a case without samples, and a battery whose charge is expected at a supply", () => {
  const { cases: reports } = compared((entry) => {
    only("feeds")(entry);
    put(entry.case, "sample_times", undefined);
    put(entry.expected, "feeds.0.soc_end", 0.9);
    put(entry.expected, "feeds.0.charge_warning", false);
  });
  expect(reports[0].failures.map(({ figure, found }) => [figure, found])).toEqual([
    ["source supply charge at the end", "not computed"],
    ["source supply charge outside 0…1 at the end", "not computed"],
  ]);
});

describe("what a run has not", () => {
  test.each(["loads", "feeds", "leads", "fuses", "scr", "clamp", "switch"])("of %s counts as a failure", (key) => {
    const donor = cases.find(({ expected }) => [expected[key] ?? []].flat().length > 0);
    const wanted = structuredClone(donor?.expected[key]);
    const { cases: reports } = compared((entry) => {
      only("nothing")(entry);
      entry.expected[key] = wanted;
      if (Array.isArray(wanted)) for (const each of wanted) each.name = "nobody";
      else entry.case[key] = null;
    });
    const [{ failures, figures }] = reports;
    expect(figures).toBeGreaterThan(0);
    expect(failures).toHaveLength(figures);
    for (const { found } of failures) expect(found).toBe("not computed");
  });

  test("and is not expected is nothing to compare", () => {
    const { cases: reports } = compared((entry) => {
      for (const key of Object.keys(entry.expected)) entry.expected[key] = key === "events" ? undefined : null;
      put(entry.expected, "samples", undefined);
    });
    expect(reports[0].figures).toBe(0);
  });
});

describe("a case that cannot be read", () => {
  test.each<[string, string, unknown, string]>([
    [
      "an unknown limit",
      "case.feeds.0.limit.style",
      "square",
      'limit.style is "square"; allowed: none, constant current',
    ],
    ["an unknown fault", "case.feeds.0.fault.kind", "rust", 'fault.kind is "rust"; allowed: none, setting raised'],
    [
      "an unknown load",
      "case.loads.0.kind",
      "toaster",
      'loads.kind is "toaster"; allowed: resistive, constant current',
    ],
    ["an unknown SCR", "case.scr.variant", "slow", 'scr.variant is "slow"; allowed: plain, held, latched'],
    ["an unknown switch", "case.switch", { kind: "knife" }, 'switch.kind is "knife"; allowed: transistor, relay'],
    ["a number that is none", "case.T_amb", "warm", 'case.T_amb must be a number, not "warm"'],
    ["a number that is missing", "case.scr.V_trip", undefined, "scr.V_trip must be a number, not missing"],
    ["a text that is none", "case.loads.0.name", 7, "loads.name must be a text, not 7"],
    ["a list that is none", "case.feeds", {}, "case.feeds must be a list, not {}"],
    ["an object that is none", "case.feeds.0.lead", [1], "lead must be an object"],
    ["a time that is none", "expected.events.1.t", null, "events[1].t must be a number, not null"],
    [
      "a truth value that is none",
      "case.feeds.0.ovp",
      { V_ovp: 17, t_ovp: 1, works_on_feedback_lost: "yes" },
      'ovp.works_on_feedback_lost must be true or false, not "yes"',
    ],
  ])("is told by %s", (_, place, value, words) => {
    expect(() => compared((entry) => put(entry, place, value))).toThrow(words);
  });
});
