import { drawOnTransmit, holdsOnTransmit, PULSE_WITHSTAND, runScenario } from "@railfault/sim";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import type { Found } from "../../../packages/notebooks/src/pages/hiccup/background.ts";
import { dipsOf, tripsIn } from "../../../packages/notebooks/src/pages/hiccup/dips.ts";
import { fedInAll } from "../../../packages/notebooks/src/pages/hiccup/facts.ts";
import { outcomeOf } from "../../../packages/notebooks/src/pages/hiccup/outcome.ts";
import { dangerOf, type PeakSeen, peakOf, peakTold } from "../../../packages/notebooks/src/pages/hiccup/peak.ts";
import { remedyNotes, remedyTasks, smallerFuse } from "../../../packages/notebooks/src/pages/hiccup/remedies.ts";
import { returnOf } from "../../../packages/notebooks/src/pages/hiccup/return.ts";
import { faultSentence } from "../../../packages/notebooks/src/pages/hiccup/strikes.ts";
import { stripView } from "../../../packages/notebooks/src/pages/hiccup/strip.ts";
import { limitSchemes, limitStyles, watched } from "../../../packages/notebooks/src/pages/hiccup/styles.ts";
import {
  bounds,
  rungsFound,
  sweeps,
  sweepTasks,
  tooSmall,
} from "../../../packages/notebooks/src/pages/hiccup/sweep.ts";
import { grouped, roughTime, whole } from "../../../packages/notebooks/src/pages/hiccup/words.ts";
import { answered, changed, inStyle, open } from "./hiccup-lines.ts";

describe("five limit styles on one line", () => {
  const line = open();
  const found = Object.fromEntries(limitStyles.map(({ style }) => [style, inStyle(line, style)]));

  it("end in five ways, each told from its run", () => {
    expect(Object.fromEntries(Object.entries(found).map(([style, { outcome }]) => [style, outcome.ending]))).toEqual({
      "constant current": "shorted",
      foldback: "held",
      hiccup: "trips",
      "latch off": "latched",
      none: "fuse",
    });
    const fuse = found.none.answer.run.fuses[0].openTime ?? 0;
    expect(found.none.outcome.brief).toBe(`after ${((fuse - 0.02) * 1e3).toPrecision(2)} ms`);
    expect(found.hiccup.outcome.sentence).toContain("317 ms");
    expect(found.foldback.outcome.sentence).toMatch(/held on at 12\.5 A until/);
  });

  it("leave the radio to come back alone with the hiccup only", () => {
    expect(limitStyles.map(({ style }) => found[style].back.alone)).toEqual([false, false, true, false, false]);
  });

  it("are the line's own supply in its own style", () => {
    expect(found.hiccup.answer.scenario.sources[0]).toEqual(line.now.parsed.scenario?.sources[0]);
  });

  it("are watched for some rounds of a slow hiccup, and not for an hour where a rectifier ripples", () => {
    line.set("off", [[["sources", 0, "limit", "off time"], "5 s"]]);
    expect(watched(line.now, "hiccup")).toBeGreaterThan(4 * 5);
    expect(watched(line.now, "foldback")).toBe(3600);
    expect(watched(open("23-ripple-reservoir").now, "foldback")).toBeLessThan(60);
  });

  it("are left alone where no supply could be varied, and told where a text has errors", () => {
    expect(limitSchemes.map(({ changes }) => changes?.(open("09-panel-and-battery").now))).toEqual(Array(5).fill(null));
    const broken = open();
    broken.edit("sources: nonsense\n");
    expect(limitSchemes.map(({ changes }) => changes?.(broken.now))).toEqual(Array(5).fill([]));
  });
});

describe("where the tripping begins and ends", () => {
  const line = open();
  const [fuses] = sweeps;
  const found = new Map<string, Found>(
    sweepTasks(fuses, line.now).map(({ name, request }) => {
      const { text, file } = request(new Map()) ?? { text: "", file: "" };
      const result = runScenario(text, file, { record: false });
      return [
        name,
        result.kind === "refused" ? { kind: "refused", issues: result.issues } : { kind: "answer", answer: result },
      ];
    }),
  );
  const rungs = rungsFound(fuses, line.now, found);

  it("is told from a run for each rating, with the line's own among them", () => {
    expect(rungs.filter(({ rung }) => rung.here).map(({ rung }) => rung.label)).toEqual(["30 A"]);
    const endings = new Map(rungs.map(({ rung, outcome }) => [rung.label, outcome?.ending]));
    expect(endings.get("1 A")).toBe("unknown");
    expect(endings.get("5 A")).toBe("fuse");
    expect(endings.get("7.5 A")).toBe("trips");
    expect(bounds("Main fuse", rungs)).toBe(
      "It trips again and again from 7.5 A to 40 A. From 2 A to 5 A: fuse blown.",
    );
    expect(bounds("Main fuse", rungs.slice(1, 4))).toContain("at none of these values");
  });

  it("does not praise a fuse that the radio melts in normal service", () => {
    const holds = new Map(rungs.map(({ rung, carries }) => [rung.label, carries?.holds]));
    expect([holds.get("5 A"), holds.get("25 A"), holds.get("30 A")]).toEqual(["no", "not for long", "yes"]);
    expect(tooSmall(rungs)).toMatch(
      /^The fuses from 2 A to \d+ A would not hold in normal service: the .* draws 2\d A on transmit, which melts each/,
    );
    expect(tooSmall(rungs.slice(-1))).toBe("");
    const { window } = new JSDOM("");
    const view = stripView(window.document, fuses);
    view.show(rungs, false);
    const tags = [...view.element.querySelectorAll("li")].map((each) =>
      [...each.querySelectorAll<HTMLElement>(".state-tag")].map(({ textContent, dataset }) => [
        textContent,
        dataset["tone"],
      ]),
    );
    const five = rungs.findIndex(({ rung }) => rung.label === "5 A");
    expect(tags[five]).toEqual([
      ["fuse blows", "none"],
      ["would not hold", "endangered"],
    ]);
    expect(tags.at(-1)?.length).toBe(1);
  });

  it("gives the smaller fuse that ends it, and two other remedies that do", () => {
    expect(smallerFuse(line.now, rungs)).toBe("blade fuse 5 A");
    const told = new Map<string, readonly unknown[]>();
    const outcomes = remedyTasks(line.now, rungs).map(({ name, request }) => {
      const wanted = request(new Map());
      // Nothing comes to rest here, so nothing is followed on.
      if (wanted === null) return [name];
      const answer = answered(wanted);
      const outcome = outcomeOf(answer);
      const notes = remedyNotes(name, answer, outcome, line.now).map(({ mark, sentence }) => [mark?.tag, sentence]);
      told.set(name, notes);
      return [name, outcome.ending, returnOf(answer, outcome).sentence];
    });
    expect(outcomes).toEqual([
      ["gate", "fired", "Somebody must drive up to reset the crowbar."],
      ["gate, followed on"],
      [
        "disconnect",
        "trips",
        "Nothing reaches the relay radio any more. Somebody must drive up to reset what was opened.",
      ],
      ["disconnect, followed on"],
      ["fuse", "fuse", "Somebody must drive up to replace the fuse."],
      ["fuse, followed on"],
    ]);
    const voltage = [undefined, expect.stringMatching(/^relay radio: .* at most, limit 15\.9 V$/)];
    expect(told.get("gate")).toEqual([
      voltage,
      ["Stays below its limit", expect.stringMatching(/^Estimate: the SCR peaks at .* an hour after the fault/)],
    ]);
    expect(told.get("disconnect")).toEqual([
      voltage,
      ["Goes on", "It protects the radio, but it does not stop the tripping: supply and SCR go on."],
    ]);
    expect(told.get("fuse")).toEqual([
      voltage,
      ["Would not hold", expect.stringContaining("would not hold on transmit (21 A)")],
    ]);
  });
});

describe("whether the radio is in danger", () => {
  const seen = (peak: number, grade: PeakSeen["grade"] = "inside"): PeakSeen => ({
    load: "relay radio",
    grade,
    peak,
    limit: 15.87,
  });

  it("is told of each run by its largest voltage and its limit", () => {
    const found = peakOf(inStyle(open(), "hiccup").answer);
    expect(found).toMatchObject({ load: "relay radio", grade: "inside", limit: 15.87 });
    expect(found?.peak).toBeCloseTo(14.96, 2);
    expect(peakTold(found ?? seen(0))).toEqual({ sentence: "relay radio: 15 V at most, limit 15.9 V", mark: null });
  });

  it("is marked where the voltage is above its limit, and told with digits enough to see it", () => {
    const line = changed("02-hiccup-supply", [["crowbar", "trip voltage"], "20 V"]);
    const found = peakOf(inStyle(line, "hiccup").answer);
    expect(found?.peak).toBeGreaterThan(19);
    expect(found?.grade).not.toBe("inside");
    expect(peakTold(found ?? seen(0)).mark?.tag).toBe("Above its limit");
    expect(peakTold(seen(15.872, "beyond"))).toMatchObject({
      sentence: "relay radio: 15.872 V at most, limit 15.87 V",
      mark: { tone: "endangered" },
    });
  });

  it("is summed up by the worst of the runs", () => {
    const runs = (...several: PeakSeen[]) =>
      several.map((each, i) => ({ label: ["Foldback", "Hiccup", "No limit"][i], seen: each }));
    expect(dangerOf(runs(seen(15), seen(14)))).toEqual({
      tag: "Radio not in danger",
      tone: "safe",
      sentence: "The relay radio never sees more than it is made for: 15 V at most, limit 15.9 V.",
    });
    expect(dangerOf(runs(seen(15), seen(21, "beyond"), seen(17, "withstood")))).toEqual({
      tag: "Radio endangered",
      tone: "endangered",
      sentence: "The relay radio sees more than it stands with hiccup (21 V at most, limit 15.9 V).",
    });
    expect(dangerOf(runs(seen(16, "withstood"), seen(17, "withstood"))).sentence).toBe(
      "The relay radio sees more than its limit, within what it stands, with each of these 2 limit styles (17 V at most, limit 15.9 V).",
    );
  });

  it("begins with the fault, read from the line", () => {
    const faultOf = (name: string) => {
      const { scenario } = open(name).now.parsed;
      return scenario === null ? "" : faultSentence(scenario);
    };
    expect(faultOf("02-hiccup-supply")).toBe("The station supply loses its feedback and would rise to 22 V.");
    expect(faultOf("01-shorted-pass-transistor")).toMatch(/^The pass transistor of .* fails short\.$/);
    const line = open();
    line.set("well", [[["sources", 0, "fault"], "none"]]);
    const { scenario } = line.now.parsed;
    expect(scenario === null ? "" : faultSentence(scenario)).toBe("No source of this line has a fault.");
  });
});

describe("a smaller fuse", () => {
  const fuseOf = (name: string) => {
    const line = open();
    line.set("fuse", [[["main fuse"], name]]);
    const fuse = line.now.parsed.scenario?.mainFuse;
    if (fuse == null) throw new Error(`no ${name}`);
    return fuse;
  };
  const draw = drawOnTransmit(open().now.parsed);

  it("must carry what the radio draws on transmit, by its class, though the line lets it receive", () => {
    expect(open().now.parsed.scenario?.loads[0]).toMatchObject({ kind: "constant current", current: 1.5 });
    expect(draw).toEqual({ loads: ["relay radio"], current: 21, transmits: true });
  });

  it("is told not to hold where it melts, to tire above three quarters of its rating, and else to hold", () => {
    if (draw === null) throw new Error("no draw");
    const five = fuseOf("blade fuse 5 A");
    expect(five.minimumMeltingCurrent).toBeLessThan(21);
    expect(holdsOnTransmit(five, draw, 25)).toMatchObject({
      holds: "no",
      sentence: expect.stringContaining("This fuse would not hold on transmit (21 A): it melts from about"),
    });
    const told = ["blade fuse 20 A", "blade fuse 25 A", "blade fuse 30 A"].map(
      (name) => holdsOnTransmit(fuseOf(name), draw, 25).holds,
    );
    expect(told).toEqual(["not for long", "not for long", "yes"]);
  });

  it("carries less where it is hot, as the check of wires has it", () => {
    if (draw === null) throw new Error("no draw");
    // Element at 150 °C: sqrt((150 − 105)/(150 − 25)) = 0.6 of what the fuse carries at 25 °C.
    const { minimumMeltingCurrent: cool } = fuseOf("blade fuse 30 A");
    const [held, tires, melts] = [13, 0.59 * cool, 0.61 * cool].map((current) =>
      holdsOnTransmit(fuseOf("blade fuse 30 A"), { ...draw, current }, 105),
    );
    expect([held.holds, tires.holds, melts.holds]).toEqual(["yes", "not for long", "no"]);
    expect(held.sentence).toContain("practice allows this fuse 13.5 A for hours at 105 °C.");
    expect(tires.sentence).toContain("75 % of its rating, re-rated at 105 °C 13.5 A, for hours");
    expect(melts.sentence).toContain("melts from about 23.7 A on at 105 °C.");
  });

  it("is judged by what the line says where no class tells of transmitting", () => {
    const line = open();
    line.set("lamp", [[["loads", 0, "part"], "incandescent lamp 12 V 50 W"]]);
    const lamp = drawOnTransmit(line.now.parsed);
    expect(lamp).toMatchObject({ transmits: false });
    // The settled filament at 13.8 V, the most that its supply gives in service, worked out apart: 13.8²/R(T) = radiated, R ∝ T^1.2; 4.17 A at its 12 V.
    expect(lamp?.current).toBeCloseTo(4.492362, 6);
  });
});

describe("what hangs on the line", () => {
  it("sees dips at the rhythm of the rounds, and is fed for what is left of each", () => {
    const dips = dipsOf(inStyle(open("02-hiccup-supply", { span: "10 s" }), "hiccup").answer);
    expect(dips?.period).toBeCloseTo(0.317, 3);
    expect(dips?.longestWithout).toBeLessThan(dips?.period ?? 0);
    expect(dips?.fedEachRound).toBeCloseTo((dips?.period ?? 0) - (dips?.longestWithout ?? 0), 2);
    expect(dips === null ? 0 : tripsIn(dips, 3600)).toBe(Math.floor(3600 / (dips?.period ?? 1)));
    expect(dipsOf(inStyle(open(), "foldback").answer)).toBeNull();
  });

  it("is fed in all for what its rounds are told to come to, however long it was followed", () => {
    const told = [2.86e-3, 2.937e-3].map((fedEachRound) => fedInAll({ fedEachRound }, 189));
    expect(told).toEqual(["550 ms", "550 ms"]);
    expect([59.6, 118, 791, 31_700, 2e6].map(roughTime)).toEqual(["60 s", "120 s", "13 min", "8.8 h", "23 days"]);
  });

  it("has numbers that stay on one line with their thousands and units", () => {
    expect(whole("10 000 trips, 8 h 48 min to 17 days at 7.5 A")).toBe(
      "10\u202f000 trips, 8\u00a0h\u00a048\u00a0min to 17\u00a0days at 7.5\u00a0A",
    );
    expect([grouped(1000), grouped(100_000)]).toEqual(["1000", "100\u202f000"]);
  });

  it("is held against a table whose harder pulses are stood less often", () => {
    const shares = PULSE_WITHSTAND.map(({ fraction }) => fraction);
    expect(shares).toEqual(shares.toSorted((a, b) => b - a));
  });
});
