import { runScenario } from "@railfault/sim";
import { figureData } from "@railfault/sim/figures";
import { describe, expect, it } from "vitest";
import type { Change } from "../../../packages/notebooks/src/kept/state.ts";
import { applyChanges } from "../../../packages/notebooks/src/line/apply.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { shippedLine, shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import { afterwards } from "../../../packages/notebooks/src/pages/battery/afterwards.ts";
import { breakingDuties, enoughToBreak, enoughWords } from "../../../packages/notebooks/src/pages/battery/breaking.ts";
import {
  creepOf,
  fromTrip,
  timeAbove,
  usualLimit,
  withoutTrip,
  withSigns,
} from "../../../packages/notebooks/src/pages/battery/clock.ts";
import { courseOf, placeFacts, tagOfPlace } from "../../../packages/notebooks/src/pages/battery/place-facts.ts";
import { pathData } from "../../../packages/notebooks/src/pages/battery/place-picture.ts";
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

  it("tells what else protects where there is no crowbar, and when that acts", () => {
    const told = (name: string, ...changes: Change[]) => {
      const { run } = answered(applyChanges(shippedLine(name).text, changes).text);
      return withoutTrip(run, run.outcome.time - run.scenario.faultTime);
    };
    expect(told("09-panel-and-battery")).toMatch(
      /no crowbar on this line; what protects the radio is the series transistor\. The switch begins to open 2 h 16 min after the fault/,
    );
    expect(told("24-isolated-sources")).toMatch(/The station supply’s own SCR fires 286 µs after the fault/);
    expect(told("20-battery-terminal-falls-off")).toMatch(/begins to open 1\.2\d ms after the contact opens/);
    expect(told("09-panel-and-battery", [["series switch"], null])).toBe(
      "Nothing protects this line: nothing ever trips.",
    );
    expect(told("08-charger-creep", [["run for"], "1 h"])).toMatch(/^Nothing trips within the 59 min/);
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
    expect(tagOfPlace(near).words).toBe("The fuse clears this, not a dead short");
    expect(near.fuse?.deadShort).toBeGreaterThan(near.fuse?.breaks ?? Number.NaN);
    expect(near.wire.pastInsulation).toBeNull();
    expect(near.hurt).toEqual([]);
    for (const bad of [far, none]) {
      expect(tagOfPlace(bad).words).toBe("Fire hazard");
      expect(bad.fuse).toBeNull();
      expect(bad.scr?.failed).toBeGreaterThan(0);
      expect(bad.hurt.join(" ")).toContain("lead of the hut battery");
      expect(courseOf(bad, String)).toContain("Nothing opens this path");
    }
    // By hand, without losing heat: from 25 to 160 °C, by IEC 60949; the wire's resistance rises and so takes current away.
    const byHand = ((226e6 * 6e-6) / far.peakCurrent) ** 2 * Math.log(394.5 / 259.5);
    expect(far.wire.pastInsulation).toBeGreaterThan(0.9 * byHand);
    expect(far.wire.pastInsulation).toBeLessThan(1.2 * byHand);
  });
});

describe("the picture of a place", () => {
  it("ends its curves where the copper melts, and says so in a row of its own", () => {
    const picture = (place: string) => {
      const answer = answered(placed(open("08-charger-creep"), place));
      const facts = placeFacts(answer);
      const data = pathData(answer, facts, place);
      if (facts === null || data === null) throw new Error("nothing tripped");
      return { facts, data, wire: data.states.at(-1), last: data.time.at(-1) ?? Number.NaN };
    };
    const [near, none] = [picture("near"), picture("none")];
    const melts = none.facts.wire.copperMelts ?? Number.NaN;
    expect(none.last).toBeLessThanOrEqual(melts);
    expect(none.last).toBeGreaterThan(0.9 * melts);
    for (const { values } of none.data.currents) expect(values.length).toBe(none.data.time.length);
    expect(none.wire?.spans.map(({ tag }) => tag)).toEqual(["holds", "burns", "melted"]);
    expect(none.wire?.spans.map(({ from }) => from).slice(1)).toEqual([none.facts.wire.pastInsulation, melts]);
    // The other picture goes on, and shares its axis.
    expect(near.last).toBeGreaterThan(2 * melts);
    expect(near.wire?.spans.map(({ tag }) => tag)).toEqual(["holds"]);
  });
});

describe("a fuse that opens in the run", () => {
  const fused = (fuse: string) => {
    const { text } = applyChanges(shippedLine("08-charger-creep").text, [[["sources", 1, "lead", "fuse"], fuse]]);
    const answer = answered(text);
    const facts = placeFacts(answer);
    if (facts === null) throw new Error("no facts");
    return { ...tagOfPlace(facts), course: courseOf(facts, (amperes) => `${Math.round(amperes)} A`), answer };
  };

  it("is no rescue where the current is beyond what it is able to break: 5 × 20 mm glass breaks 50 A", () => {
    const { tone, words, course, answer } = fused("cartridge fuse 5x20 5 A, time-lag");
    expect([tone, words]).toEqual(["endangered", "The fuse may burst"]);
    expect(course).toContain("more than it is able to break");
    expect(afterwards(answer)).toContain("may burst");
  });

  it.each(["cartridge fuse 6.3x32 20 A, fast", "cartridge fuse 5x20 5 A, fast"])(
    "is not called safe where nobody published what a %s breaks on direct current",
    (fuse) => {
      const { tone, words, course } = fused(fuse);
      expect([tone, words]).toEqual(["close", "Breaking capacity unknown"]);
      expect(course).toContain("nobody published for direct current");
    },
  );

  it("is one where it is able to break whatever may come: more than a dead short gives", () => {
    const own = (breaks: string) => fused(`{part: "cartridge fuse 6.3x32 20 A, slow", breaking capacity: ${breaks}}`);
    expect(own("10 kA")).toMatchObject({ tone: "safe", words: "The fuse clears it" });
    expect(own("1 kA")).toMatchObject({ tone: "close", words: "The fuse clears this, not a dead short" });
  });
});

describe("what the charger does afterwards", () => {
  const told = (name: string, ...changes: Change[]) => {
    const { text, refused } = applyChanges(shippedLine(name).text, changes);
    expect(refused).toEqual([]);
    return afterwards(answered(text)).replaceAll("\u00a0", " ");
  };

  it("is that the fuse takes the battery away and the charger holds the SCR on", () => {
    const text = told("08-charger-creep");
    expect(text).toMatch(/blade fuse 20 A takes the hut battery away 3\.\d+ ms after the trip/);
    expect(text).toMatch(/float charger, with 10 A\. When the run ends, 9\.\d+ A still flow through the SCR/);
    expect(text).toMatch(/junction is at 6\d\.\d °C; 125 °C is its limit/);
  });

  it.each([
    ["without a fuse", "08-charger-creep", [[["sources", 1, "lead", "fuse"], null]], "there is no fuse between"],
    ["with a fuse on the wrong side", "16-fuse-on-wrong-side", [], "there is no fuse between"],
  ] as const)("%s is the end of the SCR, which has no temperature from then on", (_, name, changes, why) => {
    const text = told(name, ...(changes as readonly Change[]));
    expect(text).toContain(`Nothing takes the hut battery away: ${why}`);
    expect(text).toMatch(/The SCR is destroyed \d+(\.\d+)? ms after the trip/);
    expect(text).not.toMatch(/The fuse|heat sink has to carry/);
    expect([...text.matchAll(/(\d+) °C/g)].map(([, degrees]) => Number(degrees))).toEqual([250]);
  });

  it("tells nothing of a line past its molten copper", () => {
    const text = told("08-charger-creep", [["sources", 1, "lead", "fuse"], null]);
    expect(text).toMatch(/copper of the battery’s lead melts \d+(\.\d+)? s after the trip/);
    expect(text).not.toContain("When the run ends");
  });

  it("is nothing where nothing trips: the battery stays and is charged on", () => {
    const text = told("08-charger-creep", [["sources", 0, "fault", "ceiling voltage"], "14.8 V"]);
    expect(text).toMatch(/^Nothing fires in this run: the crowbar sees 14\.8 V at most and waits for 15 V\./);
    expect(text).toMatch(/the hut battery still takes \d+(\.\d+)? mA/);
    expect(text).not.toMatch(/fuse|flow through/);
  });

  it("speaks of no battery where there is none, and of no SCR where there is no crowbar", () => {
    const alone = told("08-charger-creep", [["sources", 1], null]);
    expect(alone).toMatch(/^There is no battery on this line.*float charger, with 10 A/);
    expect(told("02-hiccup-supply")).toMatch(/The SCR fires \d+ times in this run and lets go each time/);
    expect(told("09-panel-and-battery")).toMatch(/^There is no crowbar on this line/);
  });
});

describe("times and signs of the pictures", () => {
  const { run, verdict } = answered(shippedLine("08-charger-creep").text);
  const data = figureData(run, verdict);

  it("are counted from the trip, and no event says otherwise", () => {
    expect(data.events.map(({ explanation }) => explanation).join(" ")).toContain("counted from here");
    const told = fromTrip(data, run).events.map(({ explanation }) => explanation);
    expect(told.join(" ")).not.toContain("counted from here");
    expect(told[0]).toContain("counts its times from the trip");
  });

  it("are told beside the name of the battery’s current, and of no other", () => {
    const before = data.currents.map(({ label }) => label);
    const labels = withSigns(data, run).currents.map(({ label }) => label);
    expect(labels.filter((label) => !before.includes(label))).toEqual(["hut battery lead (minus: charging)"]);
    const battery = withSigns(data, run).currents[labels.indexOf("hut battery lead (minus: charging)")].values;
    expect(Math.min(...battery)).toBeLessThan(-1);
  });
});

describe("breaking capacity", () => {
  const answer = answered(shippedLine("08-charger-creep").text);
  const { run } = answer;
  const duties = breakingDuties(run, 20);
  const of = (name: string) => duties.find((duty) => duty.name === name);

  it("is held against voltage over resistance at the battery's terminal", () => {
    const voltage = Math.max(run.sources[1].peak.value, 0);
    expect(of("blade fuse 20 A")?.breaks).toBe(1000);
    expect(of("blade fuse 20 A")?.mayFace).toBeCloseTo(voltage / (4.9e-3 + 3.38e-3), 6);
  });

  it("says what would be enough: what the battery gives through its own resistance, rounded up", () => {
    const enough = enoughToBreak(run);
    const bare = run.sources[1].peak.value / 4.9e-3;
    expect(enough?.current).toBeGreaterThanOrEqual(bare);
    expect(enough?.current).toBeLessThan(1.1 * bare);
    expect(enough?.voltage).toBe(Math.ceil(run.sources[0].peak.value));
    for (const { mayFace } of duties) expect(mayFace).toBeLessThan(enough?.current ?? 0);
    expect(enoughWords(answer)).toMatch(/at least\s3\.\d\skA at\s16\sV DC or more/);
    expect(enoughWords(answered(shippedLine("04-foldback").text))).toBe("");
  });

  it("is not proven by the current found: the fuse that clears it is told with the dead short", () => {
    const facts = placeFacts(answer);
    const course = facts === null ? "" : courseOf(facts, (amperes) => `${Math.round(amperes)} A`);
    expect(facts?.fuse?.deadShort).toBeCloseTo(of("blade fuse 20 A")?.mayFace ?? 0, 9);
    expect(course).toContain(`clears is the ${Math.round(facts?.fuse?.carried ?? 0)} A found here; a dead short`);
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
