import { expect, it } from "vitest";
import type { Subject } from "../../packages/sim/src/model/result.ts";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { differences, heldJacobian } from "../support/derivatives.ts";
import { modeScenarios } from "../support/mode-scenarios.ts";
import { inside } from "../support/modes.ts";

/** A fuse that melts and stays a conductor, for the question which current would have flowed: modes that no run from a file enters by itself. */
it.each<[string, string, Subject]>([
  ["the main fuse", "shorted pass transistor, main fuse melts", { part: "main fuse", owner: "" }],
  ["a lead's fuse", "lead fuse clears, crowbar from a battery", { part: "in-line fuse", owner: "battery" }],
])("%s that melts and does not clear keeps its derivatives exact", (_what, name, unclearing) => {
  const simulation = new Simulation(modeScenarios[name], { record: false, unclearing });
  const { assembly } = inside(simulation);
  const element =
    unclearing.part === "main fuse"
      ? assembly.mainFuse?.element
      : assembly.sources.find((source) => source.name === unclearing.owner)?.lead.element;
  expect(element?.clears).toBe(false);
  const seen = { intact: 0, melted: 0 };
  do {
    const mode = element?.melted ? "melted" : "intact";
    if (seen[mode]++ % 25 !== 0) continue;
    const { line, local, y } = inside(simulation);
    const J = heldJacobian(line, local, y);
    const { J: D, noise } = differences(line, local, y);
    J.forEach((row, i) => {
      const largest = Math.max(...row.map(Math.abs), ...D[i].map(Math.abs));
      row.forEach((value, j) => {
        const place = `d(${line.names[i]})'/d(${line.names[j]}), ${mode}`;
        expect(Math.abs(value - D[i][j]), place).toBeLessThanOrEqual(3e-6 * largest + noise[i]);
      });
    });
  } while (simulation.advance(1) === "running");
  expect(seen.intact).toBeGreaterThan(25);
  expect(seen.melted).toBeGreaterThan(25);
});
