import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { changeTexts, FitMemory, formatIssues, InvalidInput, type Issue, parseScenario } from "@railfault/sim";
import { checkScenario } from "../../../packages/sim/src/report/run-scenario.ts";
import { root } from "../../ground/files.ts";
import type { Entrance } from "./entrance.ts";
import { type Draws, HOSTILE, injured } from "./mutate.ts";

const folder = join(root, "packages/sim/scenarios");

/** Every shipped line and the broken ones of the tests. */
export const lines: readonly string[] = [
  folder,
  join(root, "test/scenario/broken"),
  join(root, "test/scenario/valid"),
].flatMap((each) => readdirSync(each).map((name) => readFileSync(join(each, name), "utf8")));

/** What a quick one looks like; most injuries are met as well in few lines as in many. */
const short =
  "title: x\nfault at: 1 ms\nrun for: 1 s\nsources:\n  - {name: s, part: linear supply 20 A, fault: {kind: shorted pass transistor}, lead: {length: 1 m, area: 4 mm2}}\nmain fuse: blade fuse 15 A\ncrowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}\nloads:\n  - name: radio\n    part: 100 W radio # remark\n    lead:\n      length: 1 m\n      area: 4 mm2\n";
const corpus: readonly string[] = [...lines, ...Array.from({ length: 19 * lines.length }, () => short)];

/** What means something to YAML or to the format. */
const MARKS = [
  ..."{ } [ ] : - , ? | > & * ! % @ ` # ' ~".split(" "),
  "&a ",
  "*a",
  "<<: *a",
  "!!js/function x",
  "%YAML 1.1\n---\n",
  "---\n",
  "...\n",
  "\n- ",
  "\n  ",
  "- - - ",
  "? ",
  ": ",
  "{a: ",
  "[[",
  "]]",
  '"\\u202e"',
  '"\\0"',
  "'\n\n",
  "|\n  x\n",
  "title: ",
  "\nloads:\n",
  "fault: ",
  "part: ",
  "none",
  "±5 %",
  "1 h 2 min",
  "13,8 V",
  "with -3 mV/K from 25 °C",
  "tolerances: {crowbar.trip voltage: ±2 %}\n",
  "variants:\n  - {name: a, crowbar: none}\n",
];
const PIECES = [...HOSTILE, ...MARKS, ...MARKS];

const told = (issues: readonly Issue[]): string => formatIssues(issues);

/** What was worked out for one input serves the next, as in a page; one in ten is read as if it were the first. */
const memory = new FitMemory();
const memoryFor = (draw: Draws): FitMemory => (draw.next() < 0.9 ? memory : new FitMemory());

export const scenarioText: Entrance = {
  name: "scenario file",
  enter: (draw) => {
    const text = injured(draw, corpus, PIECES);
    const { scenario, issues } = parseScenario(text, "hut.yaml", memoryFor(draw));
    const errors = issues.filter(({ severity }) => severity === "error");
    if ((scenario === null) !== errors.length > 0) throw new Error("refused without a reason, or taken with errors");
    for (const { position } of errors) if (position === null) throw new Error("an error without a place");
    // Finding the operating point is what a file can keep busy longest; one in so many shows it.
    if (scenario !== null && draw.next() < 0.02) checkScenario(text, "hut.yaml");
    return { taken: scenario !== null, said: told(issues) };
  },
};

/** A value of a line changed from outside: by an address, a control, a variant. */
export const scenarioChange: Entrance = {
  name: "change of a scenario",
  enter: (draw) => {
    const text = draw.from(corpus);
    const steps = [
      "sources",
      "loads",
      "crowbar",
      "main fuse",
      "lead",
      "length",
      "part",
      "fault",
      "kind",
      "ambient",
      ...HOSTILE,
    ];
    const path = Array.from({ length: 1 + Math.floor(draw.next() * 4) }, () =>
      draw.next() < 0.3 ? Math.floor(draw.next() * 4) : draw.from(steps),
    );
    const value =
      draw.next() < 0.2 ? null : injured(draw, ["15 V", "1 m", "none", "{a: 1}", "- x", "blade fuse 15 A"], PIECES);
    const known = memoryFor(draw);
    try {
      const changed = changeTexts(text, [[path, value]], undefined, known.texts);
      const { issues } = parseScenario(changed, "hut.yaml", known);
      return { taken: changed !== text, said: told(issues) };
    } catch (error) {
      if (!(error instanceof InvalidInput)) throw error;
      return { taken: false, said: told(error.issues) };
    }
  },
};
