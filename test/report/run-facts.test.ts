import { readFileSync } from "node:fs";
import { join } from "node:path";
import { changeText, runScenario } from "@railfault/sim";
import { figures, sizes } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { runFacts } from "../../packages/sim/src/report/run-facts.ts";

const { document } = new JSDOM("").window;
const scenarios = join(import.meta.dirname, "../../packages/sim/scenarios");
const FUSE = "blade fuse 10 A";
const plain = (text: string) => text.replaceAll("\u00a0", " ");

function answered(
  name: string,
  changes: readonly Parameters<typeof changeText>[1][] = [],
  values: readonly (string | null)[] = [],
) {
  const text = changes.reduce(
    (so, path, i) => changeText(so, path, values[i]),
    readFileSync(join(scenarios, `${name}.yaml`), "utf8"),
  );
  const result = runScenario(text, `${name}.yaml`);
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("; "));
  return result;
}

describe("the facts that a picture tells of its own run", () => {
  it("follow what was changed while the title stays the file's", () => {
    const name = "01-shorted-pass-transistor";
    const before = answered(name);
    expect(runFacts(before.run, before.verdict)).toBe(
      "Radio safe · shorted pass transistor · SCR at 15.0 V · blade fuse 20 A · some values assumed",
    );
    const after = answered(name, [["crowbar", "trip voltage"], ["main fuse"]], ["15.25 V", "blade fuse 15 A"]);
    expect(after.verdict.title).toBe(before.verdict.title);
    expect(runFacts(after.run, after.verdict)).toContain("SCR at 15.25 V · blade fuse 15 A");
    const bare = answered(name, [["crowbar"]], [null]);
    expect(runFacts(bare.run, bare.verdict)).toMatch(
      /^Radio endangered · .*shorted pass transistor · no protector · blade fuse 20 A/,
    );
  });

  it("name a load's own fuse, and tell that it stands there", () => {
    const alone = answered("16-fuse-on-wrong-side");
    expect(runFacts(alone.run, alone.verdict)).toMatch(/ · SCR at 15\.0 V · blade fuse 10 A at relay radio · /);
    const both = answered("16-fuse-on-wrong-side", [["main fuse"]], ["blade fuse 20 A"]);
    expect(runFacts(both.run, both.verdict)).toContain(" · blade fuse 20 A · blade fuse 10 A at relay radio · ");
    const two = answered(
      "17-two-radios",
      [
        ["loads", 0, "lead", "fuse"],
        ["loads", 1, "lead", "fuse"],
      ],
      [FUSE, FUSE],
    );
    expect(runFacts(two.run, two.verdict)).toContain(" · blade fuse 25 A · blade fuse 10 A at 2 loads");
    const none = answered("16-fuse-on-wrong-side", [["loads", 0, "lead", "fuse"]], [null]);
    expect(runFacts(none.run, none.verdict)).toContain(" · no fuse");
  });

  it("stand in every figure of a run, at every size, and in no bare frame", () => {
    const { run, verdict, parsed } = answered("01-shorted-pass-transistor");
    const facts = runFacts(run, verdict);
    for (const { name, of } of figures) {
      const figure = of({ run, verdict, fits: parsed.fits });
      if ("missing" in figure) continue;
      for (const size of Object.keys(sizes) as (keyof typeof sizes)[]) {
        const svg = figure.draw({ document, size });
        const header = [...svg.querySelectorAll(".header text")].map((text) => text.textContent).join(" ");
        expect(plain(header), `${name}, ${size}`).toContain(facts);
        expect(svg.querySelector("desc")?.textContent, name).toContain(facts);
      }
    }
  });
});
