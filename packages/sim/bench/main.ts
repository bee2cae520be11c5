import { readFileSync } from "node:fs";
import { join } from "node:path";
import { simulate } from "../src/model/run.ts";
import { parseScenario } from "../src/scenario/index.ts";
import type { Scenario } from "../src/scenario/types.ts";

/** How often each run is repeated after the first; the median is told. */
const REPEATS = 15;

interface Case {
  readonly name: string;
  readonly file: string;
  readonly endTime: number;
}

const cases: readonly Case[] = [
  { name: "blown fuse, the first 0.5 s", file: "01-shorted-pass-transistor.yaml", endTime: 0.5 },
  { name: "10 s of hiccup", file: "02-hiccup-supply.yaml", endTime: 10 },
  { name: "2 h of creep, then the trip", file: "08-charger-creep.yaml", endTime: 8000 },
];

function load({ file, endTime }: Case): Scenario {
  const path = join(import.meta.dirname, "../scenarios", file);
  const { scenario } = parseScenario(readFileSync(path, "utf8"), file);
  if (!scenario) throw new Error(`${file} is no valid scenario`);
  return { ...scenario, endTime };
}

const write = (...cells: (string | number)[]) =>
  process.stdout.write(
    `${cells.map((cell, k) => (k === 0 ? String(cell).padEnd(30) : String(cell).padStart(11))).join("")}\n`,
  );

write("case", "first ms", "median ms", "steps", "rejected", "evaluations", "events", "balance");
for (const entry of cases) {
  const scenario = load(entry);
  const times: number[] = [];
  const begin = performance.now();
  let run = simulate(scenario);
  const first = performance.now() - begin;
  for (let k = 0; k < REPEATS; k++) {
    const start = performance.now();
    run = simulate(scenario);
    times.push(performance.now() - start);
  }
  const median = times.sort((a, b) => a - b)[Math.floor(times.length / 2)];
  const { steps, rejected, evaluations, events } = run.work;
  write(
    entry.name,
    first.toFixed(1),
    median.toFixed(1),
    steps,
    rejected,
    evaluations,
    events,
    run.energy.relative.toExponential(1),
  );
}
