import {
  type Comparison,
  compareCells,
  comparisonCsv,
  differenceOf,
  type JudgedRow,
  type ServicePoint,
} from "@railfault/sim";
import { beforeAll, describe, expect, test } from "vitest";
import { compared, rowOf, shippedText } from "./lines.ts";

let station: Comparison;
let base: JudgedRow;
beforeAll(() => {
  station = compared(shippedText("01-shorted-pass-transistor"), { schemes: ["series transistor", "relay"] });
  base = rowOf(station, "series transistor");
});

/** The sentence about two lines that differ in so much and in nothing else. */
function between(first: Partial<JudgedRow>, second: Partial<JudgedRow>): string {
  const rows = [
    { ...base, name: "A", ...first },
    { ...base, name: "B", ...second },
  ];
  return differenceOf({ ...station, rows, runs: new Map() }, "A", "B");
}

describe("what sets two lines apart", () => {
  test("a peak", () => {
    const at = (value: number) => ({ peak: { value, after: 0 } });
    expect(between(at(14.2), at(15.1))).toBe("With “A” the relay radio sees 14.2 V at the most, with “B” 15.1 V.");
    // Three figures would not tell them apart.
    expect(between(at(15.06), at(15.12))).toContain("sees 15.06 V at the most, with “B” 15.12 V");
  });

  test("a lost load without waveforms: what it sees, whichever of the two lost it", () => {
    const lost = { grade: "beyond", peak: { value: 23, after: 0 } } as const;
    const said =
      "ith “A” the relay radio sees 23 V, where with “B” it sees 15 V at the most; “A” costs the relay radio, “B” nothing.";
    const kept = { peak: { value: 15, after: 0 }, replaced: [] };
    expect(between({ ...lost, replaced: [] }, kept)).toBe(`W${said}`);
    expect(between(kept, { ...lost, replaced: [] })).toBe(
      "With “B” the relay radio sees 23 V, where with “A” it sees 15 V at the most; “A” costs nothing, “B” the relay radio.",
    );
  });

  test("the one that is too close to call, first or second", () => {
    expect(between({ tooClose: true }, {})).toBe("“A” is too close to call.");
    expect(between({}, { tooClose: true })).toBe("“B” is too close to call.");
  });

  test("hazards: of either line, and of both where they differ", () => {
    const fire = { hazard: "fire", risks: ["fire hazard at the main fuse", "trips on and on"] } as const;
    const worn = { hazard: "beyond rating", risks: ["the clamp was used beyond its rating"] } as const;
    const none = { hazard: "none", risks: [] } as const;
    expect(between(none, fire)).toBe("“B” leaves this: fire hazard at the main fuse.");
    expect(between(worn, none)).toBe("“A” leaves this: the clamp was used beyond its rating.");
    expect(between(worn, fire)).toBe(
      "“A” leaves this: the clamp was used beyond its rating; “B” leaves this: fire hazard at the main fuse.",
    );
  });

  test("what each costs: nothing, or all that is to be replaced and not what is only looked at", () => {
    const replaced = [
      { part: "main fuse", step: "replace", weight: 1 },
      { part: "crowbar's SCR", step: "replace", weight: 2 },
      { part: "relay radio", step: "check", weight: 4 },
    ] as const;
    expect(between({ replaced }, { replaced: [] })).toBe("“A” costs the main fuse and the crowbar's SCR, “B” nothing.");
  });

  test.each([
    ["never off", "was never off"],
    ["alone", "comes back alone"],
    ["after a reset", "comes back after a reset"],
    ["not told", "does not tell whether it comes back"],
  ] as const)("how the load returns: %s", (comesBack, said) => {
    expect(between({ comesBack }, { comesBack: "after a repair" })).toBe(`“A” ${said}, “B” comes back after a repair.`);
  });

  test("how often it trips", () => {
    const tripping = { count: 7, period: 0.1, goesOn: true };
    expect(between({ tripping: null }, { tripping })).toBe("“A” does not trip repeatedly, “B” trips 7 times.");
  });

  test("no more than the three clauses that decide first", () => {
    const said = between(
      { tooClose: true, hazard: "fire", risks: ["fire hazard at the main fuse"], comesBack: "alone" },
      { hazard: "none", tripping: { count: 7, period: 0.1, goesOn: true }, comesBack: "after a repair" },
    );
    expect(said).toBe(
      "“A” is too close to call; “A” leaves this: fire hazard at the main fuse; “A” comes back alone, “B” comes back after a repair.",
    );
  });

  test("lines without a verdict say why, first or second", () => {
    const none = { kind: "no verdict", about: "", isBase: false, why: "It was not run." } as const;
    const rows = [
      { ...base, name: "A" },
      { ...none, name: "B" },
    ];
    expect(differenceOf({ ...station, rows }, "A", "B")).toBe("“B” has no verdict: It was not run.");
    expect(differenceOf({ ...station, rows }, "B", "A")).toBe("“B” has no verdict: It was not run.");
  });
});

describe("watts in normal service", () => {
  const point = (loss: number): ServicePoint => ({ kind: "found", current: 21, drop: 0.1, loss });
  const refused: ServicePoint = { kind: "refused", why: "the fuse melts" };
  const nearly = /come to nearly the same/;

  test.each([
    ["more of them", point(10), point(12), "“B” loses 2 W more while transmitting."],
    ["fewer of them", point(12), point(9), "“B” loses 3 W less while transmitting."],
    ["less than a twentieth apart", point(100), point(104), nearly],
    ["one that cannot transmit", point(10), refused, nearly],
  ])("%s", (_, first, second, said) => {
    const serviceOf = (transmit: ServicePoint) => ({ service: { receive: point(1), transmit } });
    expect(between(serviceOf(first), serviceOf(second))).toMatch(said);
  });

  test("of a load that never takes more", () => {
    const serviceOf = (loss: number) => ({ service: { receive: point(loss), transmit: null } });
    expect(between(serviceOf(1), serviceOf(2))).toBe("“B” loses 1 W more in normal service.");
    expect(between({ service: null }, serviceOf(2))).toMatch(nearly);
  });
});

describe("why a load was lost, read from its waveform", () => {
  /** The voltage at the load goes straight from point to point, s and V; the relay opens when it is told to, counted from the fault. */
  function lost(
    points: readonly (readonly [number, number])[],
    withstand: readonly { voltage: number; time: number }[],
    opens: number | null,
  ) {
    const answer = station.runs.get("relay");
    if (answer === undefined) throw new Error("no run");
    const { run } = answer;
    const zero = run.scenario.faultTime;
    const values = Float64Array.from(points, ([, value]) => value);
    const trace = {
      time: Float64Array.from(points, ([time]) => zero + time),
      columns: [{ name: "relay_radio_V", unit: "V", values }],
    };
    const loads = run.scenario.loads.map((load) => ({ ...load, limits: { ...load.limits, maximum: 16, withstand } }));
    const { seriesSwitch } = run;
    if (seriesSwitch === null) throw new Error("no switch");
    const changed = {
      ...run,
      trace,
      scenario: { ...run.scenario, loads },
      seriesSwitch: { ...seriesSwitch, opens: opens === null ? [] : [zero + opens] },
      fuses: run.fuses.map((fuse) => ({ ...fuse, openTime: null })),
    };
    const rows = [
      { ...base, name: "A", replaced: [] },
      { ...base, name: "B", replaced: [], grade: "beyond" as const, peak: { value: 25, after: 0 } },
    ];
    return differenceOf({ ...station, rows, runs: new Map([["B", { ...answer, run: changed }]]) }, "A", "B");
  }
  const curve = [{ voltage: 20, time: 1e-3 }];
  // 20 V are passed at 2 ms.
  const rising = [
    [0, 10],
    [4e-3, 30],
    [20e-3, 30],
  ] as const;

  test.each([
    [
      "too late: from 2 ms on for 1 ms it stands 20 V",
      5e-3,
      curve,
      "The relay opens 2 ms later than the relay radio stands 20 V (1 ms), where",
    ],
    [
      "too late for a load that stands nothing above its limit: 16 V at 1.2 ms",
      5e-3,
      [],
      "The relay opens 3.8 ms later than the relay radio passes its limit of 16 V, where",
    ],
    [
      "in time, and in vain",
      2.5e-3,
      curve,
      "The relay opens 500 µs before the relay radio is lost, but its voltage stays up for longer than it stands 20 V, where",
    ],
    ["never", null, curve, "With “B” nothing ends it, and the relay radio stands 20 V for 1 ms only, where"],
    [
      "never, for a load that stands nothing above its limit",
      null,
      [],
      "With “B” nothing ends it, and the relay radio passes its limit of 16 V 1.2 ms after the fault, where",
    ],
  ] as const)("the protection acts %s", (_, opens, withstand, said) => {
    expect(lost(rising, withstand, opens)).toContain(said);
  });

  test("two short visits are no long one, and the level that is outlasted first is told", () => {
    const levels = [
      { voltage: 20, time: 1e-3 },
      { voltage: 26, time: 0.5e-3 },
    ];
    // Above 20 V for 0.8 ms, below again, then above both: above 20 V from 4 ms on, above 26 V from 4.6 ms on.
    const twice = [
      [0, 10],
      [1e-3, 20],
      [1.4e-3, 24],
      [1.8e-3, 20],
      [3e-3, 10],
      [4e-3, 20],
      [5e-3, 30],
      [9e-3, 30],
    ] as const;
    expect(lost(twice, levels, 6e-3)).toContain(
      "The relay opens 1 ms later than the relay radio stands 20 V (1 ms), where",
    );
    expect(lost(twice, levels.toReversed(), 6e-3)).toContain(
      "opens 1 ms later than the relay radio stands 20 V (1 ms)",
    );
  });

  test("above the level from the start", () => {
    expect(
      lost(
        [
          [0, 25],
          [10e-3, 25],
        ],
        curve,
        4e-3,
      ),
    ).toContain("The relay opens 3 ms later than the relay radio stands 20 V");
  });

  test("a waveform that never shows it: what it sees is all that is told", () => {
    expect(
      lost(
        [
          [0, 13],
          [10e-3, 13],
        ],
        curve,
        4e-3,
      ),
    ).toContain("With “B” the relay radio sees 25 V, where with “A” it sees ");
  });
});

describe("an own OVP that does not see lost feedback", () => {
  const line = shippedText("01-shorted-pass-transistor")
    .replace(
      "{kind: shorted pass transistor, pass resistance: 50 mohm}",
      "{kind: lost feedback, ceiling voltage: 22 V}",
    )
    .replace("run for: 0.6 s", "run for: 0.15 s");
  const why = "the own OVP of the station supply does not work on lost feedback";

  test("is told with the scheme that loses by it, in the sentence and in what is left to fear", () => {
    const found = compared(line, { schemes: ["own OVP"] });
    const row = rowOf(found, "own OVP");
    expect(row.grade).toBe("beyond");
    const assumed = `${why} (assumed: a shutdown often shares the lost feedback)`;
    expect(row.idle).toEqual([assumed]);
    expect(compareCells(row).risk).toContain(assumed);
    expect(differenceOf(found, "as it stands", "own OVP")).toContain(`nothing ends it, and`);
    expect(differenceOf(found, "as it stands", "own OVP")).toContain(`, for ${assumed}, where with`);
    expect([...comparisonCsv(found)].join("")).toContain(assumed);
  });

  test("is no reason where the file lets it work, where the load was safe, or on another fault", () => {
    const own = "  own OVP: {voltage: 15 V, delay: 20 us, works on lost feedback:";
    const withOwn = (works: string) =>
      line.replace(/^( *)(?:- )?fault: \{kind: lost.*$/m, (said, room) => `${said}\n${room}${own.trim()} ${works}}`);
    const yes = compared(withOwn("yes"), { schemes: ["own OVP"] });
    expect(rowOf(yes, "own OVP").idle).toEqual([]);
    const no = compared(withOwn("no"), { schemes: ["own OVP"] });
    expect(rowOf(no, "own OVP").idle).toEqual([`${why} (as the file says)`]);
    expect(rowOf(no, "as it stands").idle).toEqual([]);
    const other = compared(shippedText("01-shorted-pass-transistor"), { schemes: ["own OVP"] });
    expect(other.rows.flatMap((row) => (row.kind === "judged" ? row.idle : []))).toEqual([]);
  });
});
