import { type EventKind, holdsOnTransmit, runScenario, ScenarioRun } from "@railfault/sim";
import { describe, expect, it } from "vitest";
import type { Line } from "../../../packages/notebooks/src/line/line.ts";
import { shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import type { LaneNow } from "../../../packages/notebooks/src/pages/hiccup/background.ts";
import { toneOf } from "../../../packages/notebooks/src/pages/hiccup/card.ts";
import { dipsOf } from "../../../packages/notebooks/src/pages/hiccup/dips.ts";
import { heatSentences, withoutDips } from "../../../packages/notebooks/src/pages/hiccup/facts.ts";
import { hazardNotes } from "../../../packages/notebooks/src/pages/hiccup/hazards.ts";
import { heldHeat } from "../../../packages/notebooks/src/pages/hiccup/held-heat.ts";
import { outcomeOf } from "../../../packages/notebooks/src/pages/hiccup/outcome.ts";
import { remedyTasks } from "../../../packages/notebooks/src/pages/hiccup/remedies.ts";
import { returnOf } from "../../../packages/notebooks/src/pages/hiccup/return.ts";
import { styleTold } from "../../../packages/notebooks/src/pages/hiccup/style-told.ts";
import { followed, limitStyles, watched, watchedInFull } from "../../../packages/notebooks/src/pages/hiccup/styles.ts";
import { burning, sumUp } from "../../../packages/notebooks/src/pages/hiccup/summary.ts";
import { hiccupRequest, sweeps, sweepTasks } from "../../../packages/notebooks/src/pages/hiccup/sweep.ts";
import { fullTasks } from "../../../packages/notebooks/src/pages/hiccup/watching.ts";
import { whyRefused } from "../../../packages/notebooks/src/pages/hiccup/words.ts";
import { answered, changed, inStyle, open } from "./hiccup-lines.ts";

/** A style as it is told with its picture alone, and once it was watched in full. */
function told(line: Line, style: string) {
  const drawn = inStyle(line, style).answer;
  const found: LaneNow["found"] = fullTasks(line.now).reduce((known, { name, request }) => {
    const wanted = name.startsWith(style) ? request(known) : null;
    return wanted === null ? known : new Map(known).set(name, { kind: "answer", answer: answered(wanted) });
  }, new Map());
  return {
    atFirst: styleTold(line.now, style, drawn, { found: new Map(), busy: true, progress: null }),
    atLast: styleTold(line.now, style, drawn, { found, busy: false, progress: null }),
  };
}

describe("what is told rests on a long enough look", () => {
  it.each(["06-voltage-turned-up-slowly", "15-bench-test-with-lamp", "17-two-radios", "21-drop-out-reset-by-hand"])(
    "%s: as long as its own file, ten seconds and eight rounds",
    (name) => {
      const { now } = open(name);
      const { scenario } = now.parsed;
      const own = (scenario?.endTime ?? 0) - (scenario?.faultTime ?? 0);
      expect(followed(now)).toBeGreaterThanOrEqual(Math.max(own, 10));
      expect(answered(hiccupRequest(now, []) ?? { text: "", file: "" }).run.outcome.time).toBeGreaterThan(0);
      for (const { style } of limitStyles) expect(watchedInFull(now, style)).toBeGreaterThanOrEqual(followed(now));
    },
  );

  it("follows a creeping charger to the end of its file, though an hour is enough elsewhere", () => {
    expect(watched(open("08-charger-creep").now, "constant current")).toBeGreaterThan(3 * 3600 - 61);
    expect(told(open("08-charger-creep"), "constant current").atLast.outcome.tag).not.toBe("Nothing happened");
  });

  it("gives each rung of a sweep its own eight rounds", () => {
    const line = open();
    const task = sweepTasks(sweeps[1], line.now).find(({ name }) => name === "3 s");
    expect(task?.request(new Map())?.text).toMatch(/run for: (2[6-9]|3\d)/);
  });

  it("corrects what its first picture left open: a fuse that melts later", () => {
    const line = changed(
      "02-hiccup-supply",
      [["main fuse"], "blade fuse 5 A"],
      [["sources", 0, "limit", "detection time"], "2.5 ms"],
    );
    const { atFirst, atLast } = told(line, "hiccup");
    expect(atFirst).toMatchObject({ watching: true, outcome: { ending: "watched", tag: "Still watching" } });
    expect(atFirst.outcome.sentence).toMatch(/^In the first [\d.]+ s: a trip every \d+ ms\.$/);
    expect(atFirst.back).toMatchObject({ alone: null, tag: "Still watching" });
    expect(atLast).toMatchObject({ watching: false, outcome: { ending: "fuse", tag: "Fuse blown" } });
    expect(atLast.outcome.brief).toMatch(/^after [1-9][\d.]* s, trip \d+$/);
    expect(atLast.back.tag).toBe("Drive up");
  });

  it("corrects an SCR that is held on at first and fails seconds later", () => {
    const { atFirst, atLast } = told(open("22-supplys-own-scr"), "hiccup");
    expect(atFirst.outcome.tag).toBe("Still watching");
    expect(atLast.outcome).toMatchObject({ ending: "shorted", brief: "after 7.34 s" });
  });

  it("follows on what came to rest with its SCR held on: it may fail after minutes", () => {
    const { atLast } = told(open("18-arc-held"), "hiccup");
    expect(atLast.outcome).toMatchObject({ ending: "shorted", brief: "after 1 min 6 s" });
  });

  it("is no last word in the summary either", () => {
    const line = open();
    const each = limitStyles.map(({ style, label }) => ({ style, label, both: told(line, style) }));
    const first = each.map(({ both, ...names }) => ({ ...both.atFirst, ...names }));
    const last = each.map(({ both, ...names }) => ({ ...both.atLast, ...names }));
    expect(sumUp(first)).toMatch(
      /^So far the fuse blows with 1 of 5 .* With hiccup, in the first 1\.29 s: a trip every/,
    );
    expect(sumUp(last)).toMatch(
      /^The fuse blows with 1 of 5 .* Nothing in the line ends it in the 10 s that were watched\.$/,
    );
    expect(burning(last)).toMatchObject({
      tag: "Fire hazard",
      sentence: expect.stringContaining("with constant current: crowbar."),
    });
    expect(first.map((each) => toneOf(each.outcome))).not.toContain("safe");
    expect(last.filter((each) => toneOf(each.outcome) === "safe").map(({ label }) => label)).toEqual(["No limit"]);
  });
});

const PROTECTION: readonly EventKind[] = [
  "fires",
  "stops conducting",
  "fails short",
  "starts to open",
  "open",
  "recloses",
  "limiter trips",
  "restarts",
  "over-voltage shutdown",
  "melts",
  "drops out",
];

describe("nothing happened", () => {
  it.each(shippedLines.map(({ name }) => name))("%s: only where nothing protected", (name) => {
    const line = open(name);
    const runs = [answered({ text: line.now.text, file: name, record: false, secondRun: false })];
    for (const { style } of limitStyles) {
      const request = style === "hiccup" ? hiccupRequest(line.now, []) : null;
      const result = request === null ? null : runScenario(request.text, name, { record: false, secondRun: false });
      if (result?.kind === "answered" && result.run.work.steps < 50_000) runs.push(result);
    }
    for (const answer of runs) {
      const { events, scenario } = answer.run;
      const did = events.some(({ kind, time }) => time >= scenario.faultTime && PROTECTION.includes(kind));
      const { tag, sentence } = outcomeOf(answer);
      if (did) expect(tag).not.toBe("Nothing happened");
      expect(sentence).not.toBe("");
    }
  });

  it("is not said where a radio dropped out, or a supply restarted", () => {
    const dropped = open("21-drop-out-reset-by-hand").now;
    expect(outcomeOf(answered({ text: dropped.text, file: "a" }))).toMatchObject({
      tag: "Dropped out",
      sentence: "The crowbar never fired, and no fuse blew. The relay radio and the link radio dropped out.",
    });
  });

  it("is told as going on and off where a supply hiccups below the trip point", () => {
    const { atLast } = told(open("15-bench-test-with-lamp"), "hiccup");
    expect(atLast.outcome).toMatchObject({ ending: "cycles", tag: "Supply goes on and off", brief: "every 308 ms" });
    expect(atLast.outcome.sentence).toContain("after the crowbar has let go");
  });
});

describe("what a fuse is able to break", () => {
  const blown = (...changes: Parameters<typeof changed>[1][]) => {
    const line = changed("01-shorted-pass-transistor", ...changes);
    const answer = answered({ text: line.now.text, file: "line.yaml" });
    return { outcome: outcomeOf(answer), answer, back: returnOf(answer, outcomeOf(answer)) };
  };

  it("is green where it is enough", () => {
    expect(toneOf(blown().outcome)).toBe("safe");
  });

  it("makes a fuse that faces more one that may burst", () => {
    const { outcome, answer, back } = blown([["main fuse"], "{part: blade fuse 20 A, breaking capacity: 30 A}"]);
    expect(outcome).toMatchObject({ ending: "fuse bursts", tag: "The fuse may burst" });
    expect(outcome.sentence).toMatch(/faces more than it is able to break/);
    expect(toneOf(outcome)).toBe("endangered");
    expect(back.sentence).toContain("what is left of the fuse");
    expect(hazardNotes(answer.verdict)[0]).toMatchObject({ mark: { tag: "Fire hazard: main fuse" } });
  });

  it("is not green where nobody knows it", () => {
    const { outcome } = blown([["main fuse"], "cartridge fuse 5x20 6.3 A, fast"]);
    expect(outcome).toMatchObject({ tag: "Fuse blown", sentence: expect.stringContaining("not known") });
    expect(toneOf(outcome)).toBe("close");
  });
});

describe("a run that somebody stopped", () => {
  it("is told as stopped, with no last word and no estimate of what comes later", () => {
    const request = hiccupRequest(open().now, [], 600);
    const job = new ScenarioRun(request?.text ?? "", "line.yaml", { record: false });
    while (job.time < 2 && job.advance(50) === "running");
    job.stop();
    const result = job.result();
    if (result.kind === "refused") throw new Error("refused");
    const outcome = outcomeOf(result);
    expect(outcome).toMatchObject({ ending: "stopped", tag: "Stopped" });
    expect(outcome.sentence).toMatch(
      /^The run was stopped [\d.]+ s after the fault; what comes later is not known\. Until then: a trip every 317 ms\.$/,
    );
    expect(withoutDips(outcome)).toBe(outcome.sentence);
    const sentences = heatSentences(result, false).join(" ");
    expect(sentences).toContain("stopped too early");
    expect(sentences).not.toMatch(/never melts|Estimate/);
  });
});

describe("numbers that a run gives", () => {
  it("tell the current at the instant an SCR failed, not that at the end of the run", () => {
    const { now } = open("16-fuse-on-wrong-side");
    const answer = answered({ text: now.text, file: "line.yaml" });
    const { run } = answer;
    const failed = run.events.find(({ kind }) => kind === "fails short")?.time ?? Number.NaN;
    const values = run.trace.columns.find(({ name }) => name === "crowbar_A")?.values ?? [];
    const then = values[run.trace.time.findIndex((time) => time >= failed)];
    expect(Math.abs(then - (values.at(-1) ?? then))).toBeGreaterThan(20);
    expect(outcomeOf(answer).sentence).toContain(`with ${Math.round(then)} A through it`);
  });

  it.each(["06-voltage-turned-up-slowly", "17-two-radios", "02-hiccup-supply"])(
    "%s: a round feeds the load for what its waveform shows, whatever came before the first trip",
    (name) => {
      const line = open(name);
      const answer = answered(hiccupRequest(line.now, []) ?? { text: "", file: "" });
      const dips = dipsOf(answer);
      const { time, columns } = answer.run.trace;
      const firings = answer.run.crowbar?.firings ?? [];
      const volts = columns.find((each) => each.name === `${dips?.load.replaceAll(" ", "_")}_V`)?.values ?? [];
      const [from, to] = [firings.at(-4) ?? 0, firings.at(-1) ?? 0];
      let fed = 0;
      for (let i = 1; i < time.length; i++) {
        if (time[i - 1] < from || time[i] > to) continue;
        const [a, b, minimum] = [volts[i - 1], volts[i], dips?.minimum ?? 0];
        const above =
          a >= minimum && b >= minimum
            ? 1
            : a < minimum && b < minimum
              ? 0
              : (Math.max(a, b) - minimum) / Math.abs(a - b);
        fed += above * (time[i] - time[i - 1]);
      }
      expect(dips?.fedEachRound ?? 0).toBeGreaterThan(0.9 * (fed / 3));
      expect(dips?.fedEachRound ?? 0).toBeLessThan(1.1 * (fed / 3));
    },
  );

  it("differ where a sentence calls them different", () => {
    const draw = { loads: ["relay radio"], current: 15.004, transmits: true };
    const fuse = { ratedCurrent: 20, minimumMeltingCurrent: 21, meltingTemperature: null } as Parameters<
      typeof holdsOnTransmit
    >[0];
    expect(holdsOnTransmit(fuse, draw, 25).sentence).toContain(
      "draws 15.004 A on transmit. Practice allows a fuse 75 % of its rating, 15 A,",
    );
  });

  it("estimate how hot a gate that is kept on lets an SCR get, as a longer run finds it", () => {
    const line = open();
    const gate = remedyTasks(line.now, []).find(({ name }) => name === "gate");
    const short = heldHeat(answered(gate?.request(new Map()) ?? { text: "", file: "" }).run);
    const slow: Parameters<typeof changed>[1][] = [
      [["crowbar", "variant"], "gate kept on until reset"],
      [["sources", 0, "limit", "detection time"], "0.3 s"],
    ];
    const estimate = heldHeat(answered(hiccupRequest(open().now, slow, 20) ?? { text: "", file: "" }).run);
    const longer = answered(hiccupRequest(open().now, slow, 60) ?? { text: "", file: "" }).run;
    expect(short?.passes).toBeNull();
    expect(short?.afterAnHour).toBeLessThan(60);
    const junction = longer.trace.columns.find(({ name }) => name === "crowbar_junction_degC")?.values ?? [];
    const passed = longer.trace.time[junction.findIndex((celsius) => celsius > 125)] - longer.scenario.faultTime;
    expect(passed).toBeGreaterThan(20);
    expect((estimate?.passes ?? Number.NaN) / passed).toBeCloseTo(1, 1);
  });

  it("estimate no heat where a fuse has ended the current, though the gate is kept on", () => {
    const line: Parameters<typeof changed>[1][] = [
      [["crowbar", "variant"], "gate kept on until reset"],
      [["sources", 0, "limit", "detection time"], "0.1 s"],
      [["sources", 0, "limit", "off time"], "50 ms"],
      [["main fuse"], "blade fuse 15 A"],
    ];
    const { run } = answered(hiccupRequest(open().now, line, 10) ?? { text: "", file: "" });
    expect(run.fuses[0].openTime).toBeLessThan(2);
    expect(run.crowbar?.conductingAtEnd).toBe(true);
    expect(heldHeat(run)).toBeNull();
  });
});

describe("a run that was refused", () => {
  it("tells what forbids it, not what is only warned of", () => {
    const request = hiccupRequest(open("16-fuse-on-wrong-side").now, []);
    const result = runScenario(request?.text ?? "", "line.yaml");
    if (result.kind !== "refused") throw new Error("not refused");
    expect(result.issues[0].severity).toBe("warning");
    expect(whyRefused(result.issues)).toMatch(/A charger limits to a constant current/);
  });
});

describe("a gate that is kept on", () => {
  it("is not the only thing to reset where the supply has latched off", () => {
    const { outcome, back } = inStyle(open("13-gate-kept-on"), "latch off");
    expect(outcome.sentence).toMatch(
      /^The supply latches off 3\.05 ms after the fault\. The gate keeps the SCR fired, too: somebody must reset both\.$/,
    );
    expect(back.sentence).toContain("to reset the crowbar and to switch the supply off and on");
  });
});
