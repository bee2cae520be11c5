import { describe, expect, it } from "vitest";
import { parseScenario } from "../../../packages/sim/src/scenario/index.ts";
import { matchData } from "../../../packages/sim/src/study/weakest/matrix.ts";
import { matchText } from "../../../packages/sim/src/study/weakest/report.ts";
import { MatchRun, matchParts } from "../../../packages/sim/src/study/weakest/run.ts";
import type { Candidate, MatchAnswer, MatchOptions } from "../../../packages/sim/src/study/weakest/types.ts";
import { STATION, shipped } from "./lines.ts";

const few: MatchOptions = { fuses: ["blade fuse 30 A"], scrs: ["SCR 55 A"] };

function answered(text: string, options = few): MatchAnswer {
  const answer = matchParts(text, "test.yaml", options);
  if (answer.kind === "refused") throw new Error("refused");
  return answer;
}

describe("a file whose values scatter", () => {
  // A blade fuse of 30 A has 2.2 mohm when cold: outside the spread of the one in the file.
  const scattered = `${shipped(STATION)}tolerances:
  crowbar.trip voltage: 14.7…15.3 V
  main fuse.cold resistance: 3…6 mohm
`;

  it("has the same answer as without its spreads", () => {
    const [plain, spread] = [answered(shipped(STATION)), answered(scattered)];
    expect(spread.headline).toBe(plain.headline);
    expect(spread.sound.map(({ id }) => id)).toEqual(plain.sound.map(({ id }) => id));
    expect(spread.sound.length).toBeGreaterThan(0);
  });

  it("keeps those spreads in a chosen line that still hold there, and tells which do not", () => {
    const study = new MatchRun(scattered, "test.yaml", few);
    while (study.advance(50_000) === "running");
    const { text, leftOut } = study.fileOf("blade fuse 30 A + SCR 55 A + 4 mm²");
    expect(leftOut).toEqual(["tolerances: main fuse.cold resistance"]);
    const { scenario, spreads } = parseScenario(text, "chosen.yaml");
    expect(scenario?.mainFuse?.label).toBe("blade fuse 30 A");
    expect(spreads.map(({ label }) => label)).toEqual(["crowbar: trip voltage"]);
  });
});

describe("a part with which the file cannot be read", () => {
  // A file as long as one may be: names that are longer than those in it make it too long.
  const station = shipped(STATION);
  const left = 256 * 1024 - new TextEncoder().encode(station).length;
  const answer = answered(`${station}#${"x".repeat(left - 2)}\n`, {
    fuses: ["blade fuse 30 A", "maxi blade fuse 30 A"],
    scrs: ["SCR 55 A", "SCR 25 A, crowbar grade"],
    wires: ["6 mm2", "10 mm2"],
    most: 1,
  });
  const refused = (list: readonly Candidate[]): string[] =>
    list.filter(({ checks }) => checks.some(({ rule }) => rule === "file")).map(({ name }) => name);

  it("stands under its heading with the reason", () => {
    expect(refused(answer.fuses)).toEqual(["maxi blade fuse 30 A"]);
    expect(refused(answer.scrs)).toEqual(["SCR 25 A, crowbar grade"]);
    expect(refused(answer.wires)).toEqual(["10 mm²"]);
    const text = matchText(answer, { width: 400 });
    for (const [kind, name] of [
      ["fuses", "maxi blade fuse 30 A"],
      ["SCRs", "SCR 25 A, crowbar grade"],
      ["wires", "10 mm²"],
    ])
      expect(text).toMatch(
        new RegExp(`Why ${kind} fell out\\n[^]*- ${name}: With ${name} the file cannot be used .*cannot be written`),
      );
  });

  it("is told in the matrix, and counted among what was asked for", () => {
    const { wires, scrs, rows } = matchData(answer);
    for (const { withWires, withScrs } of rows) {
      expect(withWires[wires.indexOf("10 mm²")].text).not.toBe("–");
      expect(withScrs[scrs.indexOf("SCR 25 A, crowbar grade")].text).not.toBe("–");
    }
    // Three fuses, two SCRs, three wires.
    expect(answer.headline).toMatch(/\b18\b/);
  });
});
