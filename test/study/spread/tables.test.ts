import { describe, expect, test } from "vitest";
import { tolerancesData } from "../../../packages/sim/src/study/spread/figure-data.ts";
import { optionIssues, USUAL_OPTIONS } from "../../../packages/sim/src/study/spread/options.ts";
import {
  collectedData,
  mergeParts,
  readPart,
  TOLERANCES_FORMAT,
} from "../../../packages/sim/src/study/spread/part-file.ts";
import { reproduce, sampleTold, summarise } from "../../../packages/sim/src/study/spread/summary.ts";
import { samplesCsv } from "../../../packages/sim/src/study/spread/table.ts";
import { ABOVE, collectMade, made, SAFE, type World } from "./made.ts";

const TRIP = ["crowbar.trip voltage: 14…16 V"];
const never = { outcome: "load safe, nothing acted", peak: 15, share: 0.95 } as const;

async function drawn(world: World, tolerances = TRIP, samples = 50) {
  const collected = await made(world, tolerances, { samples });
  return { collected, ...tolerancesData(collected, summarise(collected)) };
}

describe("what the figure shows", () => {
  test.each([
    [{ ...SAFE, trip: 50e-6 }, "Time from the fault to the trip, µs", 50],
    [{ ...SAFE, trip: 2e-3 }, "Time from the fault to the trip, ms", 2],
    [{ ...SAFE, trip: 3 }, "Time from the fault to the trip, s", 3],
  ])("times in a unit that fits: %j", async (run, title, nominal) => {
    const { panels } = await drawn(() => run);
    const [, times] = panels;
    expect(times.title).toBe(title);
    expect(times.lines[0].label).toBe("nominal");
    expect(times.lines[0].value).toBeCloseTo(nominal, 9);
    // What never varies stands in one bar of some width.
    expect(times.bins.map(({ safe }) => safe).filter((each) => each > 0)).toEqual([50]);
    expect(times.bins[0].to).toBeGreaterThan(times.bins[0].from);
  });

  test("samples that never tripped are told beside the times of the others", async () => {
    const { panels, collected } = await drawn(([trip]) => (trip > 15.5 ? never : SAFE));
    const left = collected.samples.trip.filter(Number.isNaN).length;
    expect(left).toBeGreaterThan(1);
    expect(panels[1].note).toBe(`${left} samples never tripped`);
    expect(panels[1].bins.reduce((sum, { safe }) => sum + safe, 0)).toBe(50 - left);
  });

  test("one sample that never tripped", async () => {
    let run = -3;
    const { panels } = await drawn(() => (run++ === 0 ? never : SAFE));
    expect(panels[1].note).toBe("1 sample never tripped");
  });

  test("no panel of times where nothing trips, no nominal line where the nominal run has no trip", async () => {
    expect((await drawn(() => never)).panels).toHaveLength(1);
    const [, times] = (await drawn(([trip]) => (trip === 15 ? never : SAFE))).panels;
    expect(times.lines).toEqual([]);
  });

  test("a peak of nothing at all, for all samples, still has a bar", async () => {
    const [peaks] = (await drawn(() => ({ ...never, peak: 0 }))).panels;
    expect(peaks.bins[0]).toMatchObject({ from: 0, safe: 50 });
    expect(peaks.bins[0].to).toBeGreaterThan(0);
  });

  test("the load's maximum is a line where it is one place, and none where it varies", async () => {
    const rising: World = ([trip]) => (trip > 15 ? ABOVE : SAFE);
    const [peaks] = (await drawn(rising)).panels;
    expect(peaks.lines.map(({ role }) => role)).toEqual(["limit", "nominal"]);
    const [varying] = (await drawn(() => SAFE, ["relay radio.limits.maximum: ±2 %"])).panels;
    expect(varying.lines.map(({ role }) => role)).toEqual(["nominal"]);
  });

  test("a value that has nothing to do with the peak, because that never changes, has no bar", async () => {
    expect((await drawn(() => SAFE)).influences).toEqual([]);
    expect((await drawn(([trip]) => ({ ...SAFE, share: trip / 20 }))).influences).toEqual([
      { label: "crowbar: trip voltage", value: 1 },
    ]);
  });
});

test("a value without a unit has a column without one, and what is not known is an empty cell", async () => {
  const close = { ...never, close: true };
  const collected = await made(() => close, ["station supply.lead.contacts: 2…6"], {
    samples: 1,
  });
  const [head, row] = [...samplesCsv(collected)].join("").split("\r\n");
  expect(head).toContain("kind,index,sources[0].lead.contacts,outcome,");
  expect(row).toMatch(/^sample,0,[\d.]+,"load safe, nothing acted",yes,15,,0\.95$/);
});

describe("what cannot be answered is refused", () => {
  test("nominal values that cannot be run", async () => {
    const world: World = ([trip]) => (trip === 15 ? { outcome: "cannot be run", problem: "nothing to see" } : SAFE);
    expect(await collectMade(world, TRIP)).toMatchObject({
      kind: "refused",
      issues: [{ code: "no-nominal-run", message: "The scenario cannot be run at its nominal values: nothing to see" }],
    });
  });

  test("options, each with what is allowed", () => {
    const wrong = { samples: 2_000_000, seed: 0.5, corners: 11, part: { index: 3, of: 2 } };
    expect(optionIssues(wrong).map(({ path, received, allowed }) => [path, received, allowed])).toEqual([
      ["samples", "2000000", "a whole number from 1 to 1000000"],
      ["seed", "0.5", "a whole number from 0 to 9007199254740991"],
      ["corners", "11", "a whole number from 0 to 10"],
      ["part", "3", "a whole number from 1 to 2"],
    ]);
    expect(optionIssues(wrong)[0].hint).toContain("10 000 samples tell it to within 1 %");
    expect(optionIssues({ ...USUAL_OPTIONS, samples: 0 })[0].hint).toBeNull();
    // How many parts there are is not known, so neither is which of them there may be.
    expect(optionIssues({ ...USUAL_OPTIONS, part: { index: 3, of: 0 } }).map(({ path }) => path)).toEqual(["parts"]);
  });

  test("runs with another text than a scenario, and a sample or a value that there is not", async () => {
    const collected = await made(() => SAFE, TRIP, { samples: 3 });
    expect(() => summarise({ ...collected, text: "title: [" })).toThrow("hut.yaml is no valid scenario");
    expect(sampleTold(collected, 3)).toBeNull();
    expect(sampleTold(collected, -1)).toBeNull();
    expect(sampleTold(collected, 2)).toMatchObject({ kind: "sample", index: 2, peak: 14 });
    const told = { values: [{ path: "crowbar.trip voltage", label: "", text: "15 V" }] };
    expect(() => reproduce(collected.text, told, [])).toThrow("no spread at crowbar.trip voltage");
  });
});

describe("files of parts", () => {
  const partsOf = async (count: number, world: World = ([trip]) => (trip > 15.9 ? never : SAFE)) =>
    Promise.all(
      Array.from({ length: count }, async (_, k) => {
        const runs = collectedData(await made(world, TRIP, { samples: 60, part: { index: k + 1, of: count } }));
        return { format: TOLERANCES_FORMAT, version: "1", status: "answered", runs };
      }),
    );
  const read = (file: unknown, name = "a.json") => readPart(name, JSON.stringify(file));
  const present = (files: readonly unknown[]) =>
    files.map((file, k) => read(file, `${k}.json`)).filter((each) => each !== null);

  test("a time that there is not stays none on its way through a file", async () => {
    const whole = await made(([trip]) => (trip > 15.9 ? never : SAFE), TRIP, { samples: 60 });
    const merged = mergeParts(present(await partsOf(2)));
    expect(whole.samples.trip.some(Number.isNaN)).toBe(true);
    expect("samples" in merged && merged.samples.trip).toEqual(whole.samples.trip);
  });

  test("rows of different lengths, or no text, are no result", async () => {
    const [file] = await partsOf(1);
    expect(read(file)).not.toBeNull();
    const short = { ...file.runs.samples, trip_s: file.runs.samples.trip_s.slice(1) };
    expect(read({ ...file, runs: { ...file.runs, samples: short } })).toBeNull();
    expect(read({ ...file, runs: { ...file.runs, scenario: { file: "hut.yaml" } } })).toBeNull();
    expect(read({ ...file, status: "refused" })).toBeNull();
  });

  test("nothing to merge", () => {
    expect(mergeParts([])).toMatchObject([{ message: "There is nothing to merge.", allowed: "at least one file" }]);
  });

  test("of many missing parts the first twenty are named", async () => {
    const [first] = present(await partsOf(1));
    const part = { index: 1, of: 30 };
    const alone = { ...first, collected: { ...first.collected, options: { ...first.collected.options, part } } };
    const found = mergeParts([alone]);
    if ("samples" in found) throw new Error("merged");
    const [issue] = found;
    expect(issue).toMatchObject({ message: "29 parts are missing.", received: "parts 1 of 30" });
    expect(issue.allowed).toMatch(/missing: 2, 3, .*, 20, 21 …$/);
  });

  test("parts whose runs of single values differ, or that do not follow one another, do not fit", async () => {
    const files = present(await partsOf(2));
    const [other] = present(await partsOf(1, () => ({ ...SAFE, peak: 13 })));
    const differing = { ...files[1], collected: { ...files[1].collected, alone: other.collected.alone } };
    expect(mergeParts([files[0], differing])).toMatchObject([
      { path: "1.json", message: "Its runs of one value at a time differ from those of 0.json." },
    ]);
    const { samples } = files[1].collected;
    const moved = { ...files[1], collected: { ...files[1].collected, samples: { ...samples, first: 31 } } };
    expect(mergeParts([files[0], moved])).toMatchObject([
      { message: "The parts do not follow one another.", received: "rows from 30 on are missing" },
    ]);
  });
});
