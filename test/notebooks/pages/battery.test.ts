import { runScenario } from "@railfault/sim";
import { describe, expect, it } from "vitest";
import { applyChanges } from "../../../packages/notebooks/src/line/apply.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { shippedLine, shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import { breakingDuties } from "../../../packages/notebooks/src/pages/battery/breaking.ts";
import { creepOf, timeAbove, usualLimit } from "../../../packages/notebooks/src/pages/battery/clock.ts";
import { fallScheme, fallStory } from "../../../packages/notebooks/src/pages/battery/fall.ts";
import { courseOf, placeFacts, tagOfPlace } from "../../../packages/notebooks/src/pages/battery/place-facts.ts";
import { comparedFuse, placeSchemes, placesMatter } from "../../../packages/notebooks/src/pages/battery/places.ts";

const open = (name: string, view: Record<string, string> = {}) =>
  new Line({ line: { kind: "shipped", name }, changes: [], view });

function answered(text: string) {
  const result = runScenario(text, "line.yaml");
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return result;
}

function placed(line: Line, name: string) {
  const scheme = placeSchemes.find((each) => each.name === name);
  const { text, refused } = applyChanges(line.now.text, scheme?.changes?.(line.now) ?? []);
  expect(refused).toEqual([]);
  return text;
}

describe("time above a level", () => {
  const time = Float64Array.of(0, 2, 2, 4);
  const values = Float64Array.of(13, 15, 12, 16);

  it("is that of straight lines between the rows, with their jumps", () => {
    expect(timeAbove(time, values, 14, 0, 4)).toBeCloseTo(1 + 1, 12);
    expect(timeAbove(time, values, 14, 1.5, 3.5)).toBeCloseTo(0.5 + 0.5, 12);
    expect(timeAbove(time, values, 20, 0, 4)).toBe(0);
    expect(timeAbove(time, values, 10, 1, 3)).toBeCloseTo(2, 12);
  });
});

describe("how long one has", () => {
  const answer = answered(shippedLine("08-charger-creep").text);

  it("is what the line's own estimate says: two hours for the voltage, some minutes for the drops", () => {
    const creep = creepOf(answer, 14.4);
    expect(creep?.untilTrip).toBeGreaterThan(2 * 3600);
    expect(creep?.untilTrip).toBeLessThan(2.3 * 3600);
    expect(creep?.warning).toContain("charged to 106 %");
  });

  it("counts less time above a higher limit, and all of it above one that was passed from the start", () => {
    const above = (limit: number) => creepOf(answer, limit)?.aboveLimit ?? Number.NaN;
    expect(above(14.8)).toBeLessThan(above(14.4));
    expect(above(14.8)).toBeGreaterThan(0);
    expect(above(13)).toBeCloseTo(creepOf(answer, 13)?.untilTrip ?? 0, 6);
  });

  it("knows of no trip where the crowbar does not fire", () => {
    const { text } = applyChanges(shippedLine("08-charger-creep").text, [[["run for"], "1 h"]]);
    const creep = creepOf(answered(text), 14.4);
    expect(creep?.untilTrip).toBeNull();
    expect(creep?.watched).toBeCloseTo(3540, 3);
  });

  it("takes the limit that the battery's chemistry is charged to", () => {
    expect(usualLimit("LiFePO4 battery 100 Ah, overcharge").volts).toBe(14.2);
    expect(usualLimit("AGM battery 7 Ah").volts).toBe(14.4);
    expect(usualLimit(null).source).not.toBe("");
  });
});

describe("the fuse's place", () => {
  const matter = shippedLines.map(({ name }) => name).filter((name) => placesMatter(open(name).now));

  it("is compared where there is a battery and a crowbar", () => {
    expect(matter).toContain("08-charger-creep");
    expect(matter).toContain("16-fuse-on-wrong-side");
    expect(matter).not.toContain("01-shorted-pass-transistor");
    expect(matter).not.toContain("09-panel-and-battery");
  });

  it.each(matter)("can be changed in %s, without errors", (name) => {
    for (const { name: place } of placeSchemes) {
      const text = placed(open(name), place);
      const line = new Line({ line: { kind: "own", name, text }, changes: [], view: {} });
      expect(line.now.parsed.issues.filter(({ severity }) => severity === "error")).toEqual([]);
      const battery = line.now.parsed.scenario?.sources.find(({ kind }) => kind === "battery");
      expect(battery?.lead.fuse?.label ?? null).toBe(place === "near" ? comparedFuse(open(name).now) : null);
      expect(line.now.parsed.scenario?.mainFuse).toBeNull();
    }
  });

  it("decides between a fuse that clears and a wire that burns", () => {
    const line = open("08-charger-creep");
    const [near, far, none] = ["near", "far", "none"].map((place) => placeFacts(answered(placed(line, place))));
    if (!near || !far || !none) throw new Error("a place without facts");
    expect(tagOfPlace(near).words).toBe("The fuse clears it");
    expect(near.wire.pastInsulation).toBeNull();
    expect(near.hurt).toEqual([]);
    for (const bad of [far, none]) {
      expect(tagOfPlace(bad).words).toBe("Fire hazard");
      expect(bad.fuse).toBeNull();
      expect(bad.scr?.failed).toBeGreaterThan(0);
      expect(bad.hurt.join(" ")).toContain("lead of the hut battery");
      expect(courseOf(bad, String)).toContain("Nothing opens this path");
    }
    // By hand, without losing heat: from 25 to 160 °C, ΔT·A² / (5e-15·i²); the wire's resistance rises and so takes current away.
    const byHand = ((160 - 25) * 6e-6 ** 2) / (5e-15 * far.peakCurrent ** 2);
    expect(far.wire.pastInsulation).toBeGreaterThan(0.9 * byHand);
    expect(far.wire.pastInsulation).toBeLessThan(1.2 * byHand);
  });
});

describe("breaking capacity", () => {
  const { run } = answered(shippedLine("08-charger-creep").text);
  const duties = breakingDuties(run, 20);
  const of = (name: string) => duties.find((duty) => duty.name === name);

  it("is held against voltage over resistance at the battery's terminal", () => {
    const voltage = Math.max(run.sources[1].peak.value, 0);
    expect(of("blade fuse 20 A")?.breaks).toBe(1000);
    expect(of("blade fuse 20 A")?.mayFace).toBeCloseTo(voltage / (4.9e-3 + 3.38e-3), 6);
  });

  it("stays unknown where nobody published it", () => {
    expect(of("cartridge fuse 6.3x32 20 A, fast")?.breaks).toBeNull();
    expect(of("cartridge fuse 6.3x32 20 A, fast")?.source).toContain("not known");
  });

  it("offers one class of each family, and none for a line without a battery", () => {
    expect(new Set(duties.map(({ name }) => name)).size).toBe(duties.length);
    expect(breakingDuties(answered(shippedLine("04-foldback").text).run, 20)).toEqual([]);
  });
});

describe("the terminal that falls off", () => {
  const run = (view: Record<string, string>) => {
    const line = open("08-charger-creep", view);
    const { text, refused } = applyChanges(fallScheme.text ?? "", fallScheme.changes?.(line.now) ?? []);
    expect(refused).toEqual([]);
    return answered(text);
  };

  it("is told with its overshoot and how often the switch acts", () => {
    expect(fallStory(run({}))).toMatch(/overshoots to 17\.\d\sV; the radio sees 15\sV.* opens\s6\stimes/);
  });

  it("follows its own sliders, not the page's line", () => {
    expect(run({ trip: "16 V" }).run.loads[0].peak.value).toBeCloseTo(16, 0);
    const quick = run({ response: "100 µs" }).run.sources[0].peak.value;
    expect(quick).toBeLessThan(run({}).run.sources[0].peak.value - 1);
  });

  it("shows the radio bare, whatever the switch was set to", () => {
    const { run: bare, verdict } = run({ bare: "yes", trip: "16 V" });
    expect(bare.seriesSwitch).toBeNull();
    expect(verdict.kind === "verdict" && verdict.safe).toBe(false);
  });
});
