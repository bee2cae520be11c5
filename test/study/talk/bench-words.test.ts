import { type BenchCard, benchCard, type Issue } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import type { Run } from "../../../packages/sim/src/model/result.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { hurts } from "../../../packages/sim/src/study/talk/bench-refusals.ts";
import { strainOf } from "../../../packages/sim/src/study/talk/bench-words.ts";
import { amperes, volts } from "../../../packages/sim/src/study/talk/meter.ts";
import { station } from "../../cli/launch.ts";
import { barFound, clampFound, event, fuseFound, leadFound, run } from "../../verdict/fixtures.ts";
import { clamp } from "../../verdict/parts.ts";

const setting = { startVoltage: 13.8, endVoltage: 16, slew: 0.1, currentLimit: 2, dummy: 10, trip: null };
const harmless = { fuses: [fuseFound()], events: [event(1, 1, "fault", "line")] };
const hurt = (over: Partial<Run>, scenario: Partial<Scenario> = {}) =>
  hurts(run({ ...harmless, ...over }, scenario), setting);

describe("a test that would hurt a part is refused with the reason and a remedy", () => {
  test("a fuse that melts, by the limit that the dummy load or the SCR asks for", () => {
    const melts = { fuses: [fuseFound({ state: "open", meltTime: 3, openTime: 3.1 })] };
    expect(hurt(melts, { crowbar: null })[0]).toMatchObject({
      code: "test-melts-fuse",
      message: "The test would melt the main fuse (blade fuse 25 A): the dummy load asks for a limit of 2.00 A.",
    });
    expect(hurt(melts)[0].message).toMatch(/: with a limit below 2\.00 A the SCR may not stay on\.$/);
  });

  test("a fuse that would melt later", () => {
    expect(hurt({ fuses: [fuseFound({ meltsAfter: 40 })] })[0].code).toBe("test-melts-fuse");
  });

  test("an SCR whose current rises too steeply, or that grows too hot", () => {
    const steep = hurt({ crowbar: barFound({ peakRise: { value: 900e6, time: 1 }, firstMicrosecondRise: 800e6 }) });
    const found = steep.find(({ hint }) => hint?.startsWith("give its branch more inductance"));
    expect(found).toMatchObject({ code: "test-hurts", path: "crowbar" });
    const hot = hurt({ crowbar: barFound({ peakTemperature: { value: 200, time: 5 } }) });
    expect(hot.map(({ hint }) => hint)).toContain("take an SCR or a heat sink that stands 2 A for a while");
  });

  test("a clamp that takes more than it stands in all", () => {
    const scenario = { crowbar: null, clamp };
    const found = hurt({ clamp: clampFound({ energy: 5, failedShort: true, failTime: 4 }) }, scenario);
    expect(found.map(({ hint }) => hint).join(" ")).toContain("at 1 mA through a large resistor");
  });

  test("a wire, which is no part of the file's own keys", () => {
    const [found] = hurt({ leads: [leadFound({ peakRise: 200, endRise: 200 })] });
    expect(found).toMatchObject({ code: "test-hurts", path: "" });
    expect(found.hint).toBe("mend that in the line first: a trip in service would hurt it as well");
  });

  test("a run that carries no verdict", () => {
    const [found, ...others] = hurt({ outcome: { status: "stopped", time: 0, failure: null } });
    expect(others).toEqual([]);
    expect(found).toMatchObject({ code: "test-not-run" });
    expect(found.message).toMatch(/^The test itself cannot be simulated: /);
    expect(found.hint).not.toBeNull();
  });
});

describe("how hard the test was", () => {
  test("of an SCR is told, and that it did not stay on", () => {
    const lasting = strainOf(run({ crowbar: barFound({ conductingAtEnd: true }) })).join(" ");
    expect(lasting).toContain("the SCR's junction reached 105 °C at most (ambient 25 °C)");
    expect(lasting).not.toContain("It did not stay on");
    expect(strainOf(run({ crowbar: barFound() })).join(" ")).toContain(
      "It did not stay on until the end: expect the voltage to come back.",
    );
  });

  test("of fuses names what the main one melts from, where there is one", () => {
    expect(strainOf(run()).at(-1)).toBe("No fuse melted; the main fuse melts from 30 A on.");
    const inLine = fuseFound({ subject: { part: "in-line fuse", owner: "supply" } });
    expect(strainOf(run({ fuses: [inLine] }, { mainFuse: null })).at(-1)).toBe("No fuse melted.");
    expect(strainOf(run({ fuses: [] }, { mainFuse: null })).join(" ")).not.toContain("fuse");
  });

  test("of a clamp is its energy, unless it took nothing or its sheet does not say what it stands", () => {
    const strain = (energy: number | null, peak: number) =>
      strainOf(
        run(
          { clamp: clampFound({ peakCurrent: { value: peak, time: 1 } }), fuses: [] },
          {
            crowbar: null,
            mainFuse: null,
            clamp: { ...clamp, ratings: { ...clamp.ratings, energy: energy as number } },
          },
        ),
      );
    expect(strain(2, 0.5)).toEqual([
      "In the simulated test the clamp took 500 mA and 500 mJ of the 2 J that it stands in all, and grew 60 K warmer.",
    ]);
    expect(strain(2, 0)).toEqual([]);
    expect(strain(null, 0.5)).toEqual([]);
  });
});

const answer = (text: string): readonly Issue[] | BenchCard => {
  const found = benchCard(text, "line.yaml");
  return found.kind === "card" ? found.card : found.issues;
};
const tripping = (trip: string, spread: string): string =>
  `${station({ protector: `crowbar: {part: SCR 55 A, trip voltage: ${trip}, sense filter: fast}` })}tolerances:\n  crowbar.trip voltage: ${spread}\n`;

test("a card of a file without a title has one, and a meter shows no minus before nothing", () => {
  const card = answer(station().replace(/^title: .*\n/, "")) as BenchCard;
  expect(card.title).toBe("A 12 V line");
  expect([volts(-0.004), volts(-0.006), amperes(0.004)]).toEqual(["0.00 V", "-0.01 V", "0.00 A"]);
});

test("what passes may be cut at both ends", () => {
  const card = answer(tripping("15 V", "±2 V")) as BenchCard;
  expect(card.checks[1].basis).toBe("the file's tolerances, cut at the source's voltage and the radio's window");
  expect(card.checks[1].pass).toBe("13.85 V to 15.87 V");
});

test("a value that would trip in normal service is told to be set higher", () => {
  const card = answer(tripping("13.82 V", "±0.4 V")) as BenchCard;
  expect(card.checks[1].pass).toBe(
    "13.85 V to 14.22 V. As set, at 13.82 V, it cannot pass: that lies below 13.85 V, which normal service reaches: set it higher",
  );
});

test("a clamp of the file's own values has no range, and one that lies above the window is refused at that value", () => {
  const own = (volts: string) =>
    answer(station({ protector: `clamp: {part: 'clamp diode 1500 W, 15 V', breakdown voltage: ${volts}}` }));
  const [issue] = own("18 V") as readonly Issue[];
  expect(issue.message).toContain("it may begin to conduct at 18.00 V, but ");
  const card = own("15 V") as BenchCard;
  expect(card.checks[1].pass).toBe("about 15.00 V; the file gives no tolerance");
  expect(card.checks[1].basis).toBe("the model");
});

test("a plain crowbar with a switch that recloses: nobody resets it, and the switch is told to come back", () => {
  const reclose = "reclose: {on voltage: 14 V, retry time: 1 s}";
  const text = (more: string) =>
    station({
      protector: `crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}\nseries switch: {part: relay 30 A, off voltage: 15.5 V, sense filter: fast${more}}`,
    });
  const steps = (more: string) => (answer(text(more)) as BenchCard).steps.join("\n");
  expect(steps(`, ${reclose}`)).toContain(
    "output on: it must read as before the trip. The series switch recloses by itself.",
  );
  expect(steps("")).not.toContain("recloses");
});

test("normal service brings what the highest of several sources is set to, whichever stands first", () => {
  const second =
    "  - name: spare\n    part: linear supply 20 A\n    set voltage: 14.1 V\n    lead: {length: 1.5 m, area: 4 mm2}\n";
  const card = answer(tripping("15 V", "±2 V").replace("main fuse", `${second}main fuse`)) as BenchCard;
  expect(card.checks[1].pass).toBe("14.15 V to 15.87 V");
});

test("a line that only a panel feeds has no voltage of normal service that would be passed", () => {
  const panel = station().replace(
    /sources:[\s\S]*?main fuse/,
    "sources:\n  - name: roof\n    part: solar panel 100 W\n    lead: {length: 1.5 m, area: 4 mm2}\nmain fuse",
  );
  const [issue] = answer(`start: dead\n${panel.replace("15.0 V", "17 V")}`) as readonly Issue[];
  expect(issue.code).toBe("cannot-pass");
  expect(issue.message).not.toContain("normal service");
  expect(issue.allowed).toBe("below 15.87 V, tolerance included");
  const card = answer(`start: dead\n${panel}`) as BenchCard;
  expect(card.checks.map(({ fail }) => fail).join(" ")).toContain("Above 15.87 V, the end of its window");
  expect(card.checks.map(({ fail }) => fail).join(" ")).not.toContain("normal service");
});
