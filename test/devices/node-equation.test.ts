import { describe, expect, it } from "vitest";
import type { Clamp } from "../../packages/sim/src/devices/clamp.ts";
import type { Interrupter } from "../../packages/sim/src/devices/interrupter.ts";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { random } from "../support/dense.ts";
import { battery, clamp, crowbar, fuse, line, resistor, seriesSwitch, supply } from "../support/line.ts";
import { imbalance, inside } from "../support/modes.ts";
import { hubVoltages, type Path } from "../support/node-oracle.ts";

type PathState = "closed" | "clearing +" | "clearing −" | "open";
const PATHS: readonly PathState[] = ["closed", "clearing +", "clearing −", "open"];
const CLAMPS = ["off or on", "short"] as const;

function put(path: Interrupter, state: PathState, guess: boolean): void {
  path.state = state === "closed" ? "closed" : state === "open" ? "open" : "clearing";
  path.direction = state === "clearing −" ? -1 : 1;
  path.conducting = guess;
}

const asPath = (path: Interrupter, resistance: number): Path => ({
  state: path.state,
  direction: path.direction,
  resistance,
  arcVoltage: path.values.arcVoltage,
});

const clampDraw = (part: Clamp, v: number) =>
  part.failedShort
    ? v / part.values.shortResistance
    : Math.max(0, v - part.values.breakdownVoltage) / part.values.slopeResistance;

describe("the node equation against nested bisection, over every combination of conducting states", () => {
  const combinations = PATHS.flatMap((main) =>
    PATHS.flatMap((series) => CLAMPS.flatMap((own) => CLAMPS.map((far) => ({ main, series, own, far })))),
  );

  it.each(combinations)(
    "main fuse $main, switch $series, clamp $own, load clamp $far",
    ({ main, series, own, far }) => {
      const simulation = new Simulation(
        line({
          sources: [supply(), battery({ emf: 13.8 })],
          mainFuse: fuse({ arcVoltage: 20 }),
          crowbar: crowbar(),
          clamp: clamp(),
          seriesSwitch: seriesSwitch({ arcVoltage: 15 }),
          loads: [resistor(2, { clamp: clamp({ breakdownVoltage: 14 }) }), resistor(3, { name: "b" })],
        }),
      );
      const view = inside(simulation);
      const { assembly, line: system, y } = view;
      const {
        supplySide,
        protectedSide,
        radioSide,
        loads,
        sources,
        mainFuse,
        seriesSwitch: breaker,
        crowbar: scr,
      } = assembly;
      const clampPart = assembly.clamp;
      const farClamp = loads[0].clamp;
      if (!mainFuse || !breaker || !clampPart || !farClamp || !scr) throw new Error("a part is missing");
      const seed = combinations.findIndex(
        (c) => c.main === main && c.series === series && c.own === own && c.far === far,
      );
      const next = random(1000 + seed);
      for (let draw = 0; draw < 12; draw++) {
        put(mainFuse.path, main, next() < 0.5);
        put(breaker.path, series, next() < 0.5);
        for (const [part, state] of [
          [clampPart, own],
          [farClamp, far],
        ] as const) {
          part.failedShort = state === "short";
          part.conducting = next() < 0.5;
        }
        scr.conducting = next() < 0.5;
        const spread = 10 ** (2 * next());
        for (const node of [supplySide, protectedSide, radioSide, loads[0].node, loads[1].node])
          y[node.state] = spread * (next() - 0.4);
        for (const { lead } of [...sources, ...loads]) y[lead["i"]] = 0.5 * spread * (next() - 0.5);
        y[scr["i"]] = scr.conducting ? spread * next() : 0;

        system.reconcile(y);
        system.observe(0, y);
        const leadsIn = sources.reduce((sum, { lead }) => sum + y[lead["i"]], 0);
        const leadsOut = loads.reduce((sum, { lead }) => sum + y[lead["i"]], 0);
        const hub = (node: typeof supplySide, inflow: number) => ({
          capacitorVoltage: y[node.state],
          resistance: node.resistance,
          inflow,
        });
        const expected = hubVoltages({
          nodes: [hub(supplySide, leadsIn), hub(protectedSide, -y[scr["i"]]), hub(radioSide, -leadsOut)],
          paths: [asPath(mainFuse.path, mainFuse.element.resistance), asPath(breaker.path, breaker.values.resistance)],
          guarded: 1,
          draw: (v) => clampDraw(clampPart, v) + (scr.conducting ? 0 : v / scr.values.leakResistance),
        });
        const scale = Math.max(1, ...expected.map(Math.abs));
        [supplySide, protectedSide, radioSide].forEach((node, k) => {
          expect(Math.abs(node.voltage - expected[k])).toBeLessThan(1e-6 * scale);
        });
        const [atLoad] = hubVoltages({
          nodes: [hub(loads[0].node, loads[0].lead.current - loads[0].load.current)],
          paths: [],
          guarded: 0,
          draw: (v) => clampDraw(farClamp, v),
        });
        expect(Math.abs(loads[0].node.voltage - atLoad)).toBeLessThan(1e-6 * Math.max(1, Math.abs(atLoad)));
        expect(imbalance(view)).toBeLessThan(1e-9 * scale * 1e3);
      }
    },
  );
});
