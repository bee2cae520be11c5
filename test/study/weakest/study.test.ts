import { describe, expect, it } from "vitest";
import { runScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { changeTexts } from "../../../packages/sim/src/scenario/index.ts";
import { matchData } from "../../../packages/sim/src/study/weakest/matrix.ts";
import { matchCsv, matchMarkdown, matchText, shortList } from "../../../packages/sim/src/study/weakest/report.ts";
import { MatchRun, matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import { MatchStudy } from "../../../packages/sim/src/study/weakest/study.ts";
import type { MatchAnswer, MatchOptions } from "../../../packages/sim/src/study/weakest/types.ts";
import { STATION, STIFF_BATTERY, shipped } from "./lines.ts";

function answered(text: string, options: MatchOptions = {}): MatchAnswer {
  const answer = matchParts(text, "test.yaml", options);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

/** Only what is likely to fit, so that little is looked up. */
const few: MatchOptions = {
  fuses: ["blade fuse 25 A", "blade fuse 30 A", "blade fuse 40 A"],
  scrs: ["SCR 25 A", "SCR 50 A"],
};

describe("the shipped station", () => {
  const text = shipped(STATION);
  const answer = answered(text);

  it("has a short list, and each of it stands a full run made anew", () => {
    expect(shortList(answer).map(({ combination }) => combination.id)).toEqual([
      "blade fuse 30 A + SCR 55 A + 4 mm²",
      "blade fuse 30 A + SCR 50 A + 4 mm²",
    ]);
    for (const { changes } of answer.sound) {
      const result = runScenario(changeTexts(text, changes), "test.yaml");
      if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error("no verdict");
      expect(result.verdict.exitStatus).toBe(0);
      expect(result.run.fuses[0].openTime).not.toBeNull();
    }
  });

  it("tells why the fuse in the file is not on it, with both numbers", () => {
    const [own] = answer.fuses.filter(({ yours }) => yours);
    const failed = own.checks.filter(({ kept }) => !kept);
    expect(failed.map(({ rule, found, allowed }) => [rule, found, allowed])).toEqual([["continuous load", 21, 15]]);
    expect(answer.headline).toContain("draws 21 A in service; blade fuse 20 A carries 15 A");
  });

  it("keeps the fuse in the file where the load is said to be small enough", () => {
    const small = answered(text, { ...few, load: 15 });
    expect(small.sound[0]).toMatchObject({ changed: 0, fuse: "blade fuse 20 A", scr: "SCR 55 A" });
    expect(small.headline).toMatch(/What stands in the file is one of them/);
    // Just above three quarters of 20 A it is not.
    expect(answered(text, { ...few, load: 15.01 }).sound.some(({ changed }) => changed === 0)).toBe(false);
  });

  it("gives every part that fell out a reason with what was found", () => {
    for (const part of [...answer.fuses, ...answer.scrs]) {
      for (const { kept, sentence, found, shortBy } of part.checks) {
        expect(sentence).toMatch(/\.$/);
        if (!kept) expect(shortBy).toBeGreaterThan(1);
        expect(Number.isNaN(found)).toBe(false);
      }
    }
  });

  it("estimates the melting time of the first choice within a fifth of the run's", () => {
    const [{ meltsIn, outcome }] = answer.sound;
    expect(Math.abs((meltsIn ?? 0) / (outcome?.openAfter ?? 1) - 1)).toBeLessThan(0.2);
  });

  it("is told as text, Markdown, table and matrix alike", () => {
    expect(
      matchText(answer)
        .split("\n")
        .every((line) => line.length <= 80),
    ).toBe(true);
    expect(matchText(answer)).toContain("1. blade fuse 30 A + SCR 55 A + 4 mm²");
    expect(matchMarkdown(answer)).toContain("| blade fuse 30 A | SCR 55 A | 4 mm² | open after 418 ms |");
    const rows = [...matchCsv(answer)];
    expect(rows.length).toBe(answer.all.length + 1);
    expect(rows.filter((row) => /,sound,/.test(row)).length).toBe(answer.sound.length);
    const { rows: fuses, scrs } = matchData(answer);
    const thirty = fuses.find(({ fuse }) => fuse === "blade fuse 30 A");
    expect(thirty?.withScrs[scrs.indexOf("SCR 55 A")]).toEqual({ state: "sound", text: "4 mm²" });
    expect(thirty?.withScrs[scrs.indexOf("SCR 25 A")]).toEqual({ state: "fell together", text: "I²t" });
  });
});

describe("a line for which nothing fits", () => {
  it("is told with the reason and the cheapest change, which a full run confirms", () => {
    const text = shipped(STATION);
    const answer = answered(text, { load: 29 });
    expect(answer.sound).toEqual([]);
    expect(answer.headline).toMatch(/none is sound: .*3300 A²s of melting.* SCR 55 A stands 1750 A²s/);
    expect(answer.remedy?.verified).toBe(true);
    expect(answer.remedy?.sentence).toMatch(
      /4 mm² for the lead of the relay radio and an SCR like SCR 55 A with a surge rating/,
    );
    const result = runScenario(changeTexts(text, answer.remedy?.changes ?? []), "test.yaml");
    if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error("no verdict");
    expect(result.verdict.exitStatus).toBe(0);
    expect(result.run.fuses[0].openTime).not.toBeNull();
  });

  it("wants a fuse of a higher breaking capacity close to a battery", () => {
    const answer = answered(STIFF_BATTERY, { fuses: ["blade fuse 30 A"], scrs: ["SCR 55 A"] });
    expect(answer.sound).toEqual([]);
    expect(answer.headline).toMatch(/up to 1\.41 kA could flow into a short .* blade fuse 30 A is able to break 1 kA/);
    expect(answer.remedy?.verified).toBe(true);
    expect(answer.remedy?.sentence).toMatch(/able to break 1\.5 kA on DC and an SCR like SCR 55 A/);
  });

  it("is advised in words where no change of the file can say it", () => {
    const answer = answered(shipped(STATION), { ...few, load: 40 });
    expect(answer.remedy?.verified).toBe(false);
    expect(answer.remedy?.sentence).toMatch(
      /loads that draw no more than 30 A together, or a fuse rated at least 54 A/,
    );
  });
});

describe("a supply that holds the SCR on", () => {
  it("asks for a heat sink, and the run with it stays below the junction's limit", () => {
    const answer = answered(shipped("03-constant-current-holds"), { ...few, scrs: ["SCR 55 A"] });
    const [first] = answer.sound;
    expect(first.outcome?.ending).toBe("held on");
    // 32.8 A through 1 V and 8.5 mohm: 41.9 W; 100 K / 41.9 W − 0.9 K/W.
    expect(first.heatSink).toBeCloseTo(100 / (32.8 * (1 + 0.0085 * 32.8)) - 0.9, 1);
    expect(first.changes).toContainEqual([["crowbar", "case to ambient"], "1.4 K/W"]);
    // 1.5 K/W would be too small a heat sink: every text names the one that was run.
    expect(answer.headline).toMatch(/are among them, but only with a heat sink of at most 1\.4 K\/W/);
    expect(`${matchText(answer, { all: true })} ${matchMarkdown(answer)}`).not.toMatch(/1\.5 K\/W/);
    const limit = 125;
    expect(first.outcome?.peakJunction).toBeLessThan(limit);
    // The file's own 10 K/W are far too much.
    const own = runScenario(shipped("03-constant-current-holds"), "test.yaml");
    if (own.kind === "refused") throw new Error("refused");
    expect(own.run.crowbar?.peakTemperature.value).toBeGreaterThan(limit);
  });
});

describe("your own parts", () => {
  const own = changeTexts(shipped(STATION), [
    [["main fuse"], "{part: blade fuse 20 A, label: my fuse, rated current: 30 A, melting I2t: 900 A2s}"],
    [
      ["crowbar"],
      "{part: SCR 25 A, label: my SCR, trip voltage: 15 V, sense filter: fast, ratings: {surge current: 600 A, I2t: 1800 A2s}}",
    ],
  ]);
  const answer = answered(own, { fuses: ["blade fuse 30 A"], scrs: ["SCR 55 A"], wires: ["4 mm2"] });

  it("take part with the numbers of the file", () => {
    expect(answer.fuses.map(({ name, yours }) => [name, yours])).toEqual([
      ["my fuse", true],
      ["blade fuse 30 A", false],
    ]);
    const mine = answer.all.find(({ changed }) => changed === 0);
    expect(mine?.checks.find(({ rule }) => rule === "surge")?.sentence).toMatch(
      /900 A²s of melting .* my SCR stands 1800 A²s/,
    );
  });

  it("give way to a class as a whole, while what belongs to the line stays", () => {
    const changed = answer.all.find(({ scr, fuse }) => scr === "SCR 55 A" && fuse === "blade fuse 30 A");
    const text = changeTexts(own, changed?.changes ?? []);
    expect(text).toContain("trip voltage: 15 V");
    expect(text).not.toContain("600 A");
    expect(text).not.toContain("my fuse");
  });
});

describe("a study in pieces", () => {
  const text = shipped(STATION);
  const whole = answered(text, few);
  const options = { ...few, most: 40 };

  it("is bounded, and says what it has not run", () => {
    const one = answered(text, { ...few, most: 1 });
    expect(one.runs).toBe(1);
    expect(one.sound.length + one.fellInRun.length).toBe(1);
    expect(one.notRun.length).toBe(whole.notRun.length + whole.runs - 1);
  });

  it("stops early with what it has, and another goes on from there to the same answer", () => {
    const first = new MatchRun(text, "test.yaml", options);
    while (first.progress.runs < 1 || first.progress.stage === "looking at parts") first.advance(100);
    first.stop();
    const early = first.result();
    if (early.kind === "refused") throw new Error("refused");
    expect(early).toMatchObject({ stopped: true, runs: 1 });
    expect(early.headline).toMatch(/^Stopped early/);
    const kept = JSON.parse(JSON.stringify(first.saved()));
    const second = new MatchRun(text, "test.yaml", { ...options, resume: kept });
    while (second.advance(50_000) === "running");
    const late = second.result();
    if (late.kind === "refused") throw new Error("refused");
    expect(late.runs).toBe(whole.runs - 1);
    expect(late.sound).toEqual(whole.sound);
  });

  it("takes runs made elsewhere, and leaves aside those that it did not ask for", () => {
    const study = new MatchStudy(text, "test.yaml", options);
    let step = study.next();
    while (step.kind === "working") step = study.next();
    if (step.kind !== "run") throw new Error("no run");
    const result = runScenario(step.text, step.file);
    study.take("another", result);
    expect(study.progress.runs).toBe(0);
    study.take(step.id, result);
    expect(study.progress.runs).toBe(1);
  });

  it("is not resumed from another file's, nor from something else", () => {
    const saved = new MatchStudy(text, "test.yaml", options).saved();
    const other = matchParts(`${text}\n# changed\n`, "test.yaml", { ...options, resume: saved });
    expect(other).toMatchObject({ kind: "refused", issues: [{ code: "cannot-resume", path: "resume" }] });
    const broken = JSON.parse('{"format": "else"}');
    expect(matchParts(text, "test.yaml", { resume: broken })).toMatchObject({ kind: "refused" });
  });
});

describe("bad input", () => {
  it("is told all at once, each with what was received and allowed", () => {
    const bad = matchParts(shipped(STATION), "test.yaml", {
      load: -1,
      drop: Number.NaN,
      most: 0,
      fuses: ["blade fuse 21 A"],
      scrs: ["SCR 99 A"],
      wires: ["4 mm", "99 AWG"],
    });
    if (bad.kind === "answered") throw new Error("not refused");
    expect(bad.issues.map(({ path }) => path).sort()).toEqual([
      "drop",
      "fuses",
      "load",
      "most",
      "scrs",
      "wires",
      "wires",
    ]);
    for (const { received, allowed } of bad.issues) {
      expect(received).not.toBeNull();
      expect(allowed).not.toBeNull();
    }
    expect(bad.issues.find(({ path }) => path === "fuses")?.hint).toMatch(/did you mean/);
  });

  it("a line without a crowbar, and a file with errors, are refused", () => {
    expect(matchParts(shipped("10-clamp-only"), "x.yaml")).toMatchObject({
      kind: "refused",
      issues: [{ code: "no-crowbar" }],
    });
    expect(matchParts("title: nothing\n", "x.yaml").kind).toBe("refused");
  });
});
