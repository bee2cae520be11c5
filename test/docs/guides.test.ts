import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Node } from "../../packages/sim/src/devices/node.ts";
import { Loop } from "../../packages/sim/src/hybrid/loop.ts";
import { Watcher } from "../../packages/sim/src/hybrid/watcher.ts";
import { JournalRelay, Line } from "../../packages/sim/src/model/line.ts";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas5p } from "../../packages/sim/src/ode/tableau.ts";
import { railfault, workshop } from "../cli/launch.ts";
import { root } from "../ground/files.ts";
import { Bleeder } from "../support/bleeder.ts";
import { differences, heldJacobian } from "../support/derivatives.ts";
import { tolerance } from "../support/system.ts";
import { readDocument } from "./markdown.ts";
import { piecesMissing } from "./similar.ts";

describe("the first fault", () => {
  const page = readDocument("packages/sim/docs/first-fault.md");
  const of = (language: string) => page.blocks.filter((block) => block.language === language).map(({ text }) => text);
  const [first = "", added = ""] = of("yaml");
  const { folder, close } = workshop();
  beforeAll(() => {
    writeFileSync(join(folder, "first.yaml"), first);
    writeFileSync(join(folder, "second.yaml"), first + added);
  });
  afterAll(close);

  const lines = of("sh").flatMap((text) => text.trim().split("\n"));
  const words = (line: string): string[] => {
    const [, call = ""] = /^npm run -s railfault -- (.+)$/.exec(line) ?? [];
    const all = Array.from(call.matchAll(/"([^"]*)"|(\S+)/g), ([, quoted, bare]) => quoted ?? bare ?? "");
    return all.map((word) => (/^\w+\.(?:yaml|svg)$/.test(word) ? join(folder, word) : word));
  };

  test("runs as it is told", async () => {
    expect(lines.map((line) => words(line)[0])).toEqual(["check", "run", "run", "whatif"]);
    const said = [];
    for (const line of lines) said.push(await railfault(...words(line)));
    expect(said.map(({ status }) => status)).toEqual([0, 1, 0, expect.any(Number)]);
    expect(said[3]?.status).toBeLessThan(2);
    const [unprotected = "", protectedOne = ""] = of("text");
    expect(piecesMissing(unprotected, said[1]?.stdout ?? "")).toEqual([]);
    expect(piecesMissing(protectedOne, said[2]?.stdout ?? "")).toEqual([]);
    // The estimate by hand.
    expect(page.prose).toContain("√(891/0.125) = 84 A");
    expect(Math.sqrt(891 / 0.125)).toBeCloseTo(84, -1);
    expect(said[2]?.stdout).toMatch(/RMS current over 100 ms +87 A/);
    expect(readFileSync(join(folder, "second.svg"), "utf8")).toContain("</svg>");
  }, 60_000);
});

describe("writing a device", () => {
  const page = readDocument("packages/sim/docs/write-a-device.md");
  const values = { resistance: 10, thermalResistance: 20, thermalTimeConstant: 5, largestRise: 100 };
  const VOLTAGE = 13.8;

  function bleeding() {
    const journal = new JournalRelay();
    // As good as a constant voltage: what it gives in seconds is nothing to it.
    const node = new Node("v", 1e9, 1e-9, VOLTAGE, true);
    const surroundings = { journal, ambient: 20, voltageBand: 1e-6, currentBand: 1e-5 };
    const bleeder = new Bleeder("bleeder", values, node, 7, surroundings);
    const parts = { devices: [bleeder, node], hub: [node], links: [], rectifiers: [], timers: [], surroundings };
    return { bleeder, journal, line: new Line(parts), node };
  }

  test("shows the code that is run here", () => {
    const own = readFileSync(join(root, "test/support/bleeder.ts"), "utf8");
    const placed = own.replaceAll("../../packages/sim/src/devices/", "./").replaceAll("../../packages/sim/src/", "../");
    const shown = page.blocks.find(({ language }) => language === "ts")?.text ?? "";
    // Where a file stands decides the order of its imports.
    expect(shown.split("\n").toSorted()).toEqual(placed.split("\n").toSorted());
    const body = (text: string): string => text.slice(text.indexOf("export "));
    expect(body(shown)).toBe(body(placed));
  });

  test.each([false, true])("its derivatives are exact (open: %s)", (open) => {
    const { bleeder, line } = bleeding();
    bleeder.open = open;
    const y = Float64Array.from(line.names, (name) => (name === "v" ? 13 : 42));
    const J = heldJacobian(line, 0, y);
    const { J: D } = differences(line, 0, y);
    for (const [i, row] of J.entries())
      for (const [j, value] of row.entries()) expect(value, `${i}, ${j}`).toBeCloseTo(D[i]?.[j] ?? Number.NaN, 5);
  });

  test("it opens when its closed form says, and keeps the energy", () => {
    const { bleeder, journal, line } = bleeding();
    const start = Float64Array.from(line.names, (name) => (name === "v" ? VOLTAGE : 0));
    const integrator = new Rosenbrock(line, rodas5p, tolerance(line.size, 1e-9, 1e-9), 1e5);
    const watcher = new Watcher(line, [], false);
    const loop = new Loop(line, integrator, watcher, start, { endTime: 3, firstStep: 1e-6, maxChanges: 100 }, () => {});
    journal.target = loop;
    while (loop.advance(1000) === "running");
    expect(loop.status).toBe("finished");
    const full = (values.thermalResistance * VOLTAGE ** 2) / values.resistance;
    const opens = -values.thermalTimeConstant * Math.log(1 - values.largestRise / full);
    expect(page.prose).toContain(`5 s·(−ln(1 − 100/${full.toFixed(2)})) = ${opens.toFixed(3)} s`);
    expect(loop.events.map(({ code }) => code)).toEqual(["open"]);
    expect(loop.events[0]?.time).toBeCloseTo(opens, 6);
    expect(bleeder.open).toBe(true);
    expect(bleeder.current).toBe(0);
  });
});
