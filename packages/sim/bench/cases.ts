import { readFileSync } from "node:fs";
import { join } from "node:path";
import { changeTexts, parseScenario, type Scenario } from "../src/index.ts";

/** One thing whose speed is measured: a scenario file, so that a page can run the very same. */
export interface Case {
  /** Its letter in the table, with the number of loads where there are several. */
  readonly id: string;
  readonly what: string;
  readonly text: string;
  readonly file: string;
  /** Runs that follow the first where nobody says how many. */
  readonly repeat: number;
}

const hour = "02-hiccup-supply.yaml";

/** Everything that is run one scenario at a time. */
export function allCases(): Case[] {
  return [
    lasting("a", "blown fuse, 0.5 s", "01-shorted-pass-transistor.yaml", "0.5 s", 41),
    lasting("b", "hiccup, 10 s", hour, "10 s", 11),
    lasting("c", "creep for 2 h, then the trip", "08-charger-creep.yaml", "8000 s", 41),
    lasting("d", "hiccup, 1 h", hour, "1 h", 5),
    // 3.18 s hold ten cycles of 0.317 s: what an hour is held against.
    lasting("d10", "hiccup, ten cycles", hour, "3.2 s", 11),
    ...[1, 4, 16].map(
      (count): Case => ({
        id: `f${count}`,
        what: `blown fuse, 0.5 s, ${count} ${count === 1 ? "load" : "loads"}`,
        text: withLoads(count),
        file: `${count}-loads.yaml`,
        repeat: 21,
      }),
    ),
  ];
}

/** The complete scenario of a case. @throws Error where its text is none */
export function scenarioOf({ text, file }: Case): Scenario {
  const { scenario, issues } = parseScenario(text, file);
  if (scenario === null) throw new Error(`${file} is no valid scenario: ${issues[0]?.message}`);
  return scenario;
}

function lasting(id: string, what: string, file: string, end: string, repeat: number): Case {
  return { id, what, text: changeTexts(shipped(file), [[["run for"], end]]), file, repeat };
}

function shipped(file: string): string {
  return readFileSync(join(import.meta.dirname, "../scenarios", file), "utf8");
}

/** The shipped line of case a with so many radios, no two alike, that take 1.5 A together: the fault's story stays the same. */
function withLoads(count: number): string {
  const shares = Array.from({ length: count }, (_, k) => 1 + k / count);
  const sum = shares.reduce((a, b) => a + b);
  const radio = (share: number, k: number) =>
    `{name: radio ${k + 1}, part: 100 W radio, current: ${(1.5 * share) / sum} A, input capacitance: ${(2200 * share) / sum} uF,` +
    ` lead: {length: ${1 + k / 4} m, gauge: 12 AWG}}`;
  return changeTexts(shipped("01-shorted-pass-transistor.yaml"), [
    [["run for"], "0.5 s"],
    [["loads"], `[${shares.map(radio).join(", ")}]`],
  ]);
}
