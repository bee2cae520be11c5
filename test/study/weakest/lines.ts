import { readFileSync } from "node:fs";
import { join } from "node:path";
import { changeTexts, FitMemory, parseScenario, type TextChange } from "../../../packages/sim/src/scenario/index.ts";
import { asValue } from "../../../packages/sim/src/scenario/text/written.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { coordinate } from "../../../packages/sim/src/study/weakest/combination-rules.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import { root } from "../../ground/files.ts";

const memory = new FitMemory();

/** Text of a shipped scenario. */
export const shipped = (name: string): string =>
  readFileSync(join(root, "packages/sim/scenarios", `${name}.yaml`), "utf8");

export const STATION = "01-shorted-pass-transistor";

export function scenarioOf(text: string): Scenario {
  const { scenario, issues } = parseScenario(text, "test.yaml", memory);
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("; "));
  return scenario;
}

export const shippedScenario = (name = STATION, changes: readonly TextChange[] = []): Scenario =>
  scenarioOf(changeTexts(shipped(name), changes));

/** Fuse and SCR beside each other on the shipped station. */
export function coordinateFor(fuse: string, scr: string) {
  const line = shippedScenario(STATION, [
    [["main fuse"], asValue(fuse)],
    [["crowbar", "part"], asValue(scr)],
  ]);
  if (line.mainFuse === null || line.crowbar === null) throw new Error("fuse or SCR is missing");
  const place = { kind: "main" } as const;
  const held = { scenario: line, place, crowbar: line.crowbar, fuse: line.mainFuse };
  return coordinate({ fuse, scr }, held, lastingCurrent(line, place), 24);
}

/** A battery that could push more through a short than any blade fuse is able to break. */
export const STIFF_BATTERY = `title: Battery close to the bus
fault at: 1 s
run for: 5 h
sources:
  - name: charger
    part: switch-mode supply 30 A, constant current
    fault: {kind: lost feedback, slew: 1 V/s}
    lead: {length: 1 m, area: 6 mm2}
  - name: hut battery
    part: AGM battery 100 Ah, overcharge
    lead: {length: 0.5 m, area: 16 mm2}
main fuse: blade fuse 30 A
crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}
loads:
  - name: relay radio
    part: 100 W radio
    limits: {withstand: parts rated 16 V}
    lead: {length: 1 m, area: 6 mm2}
`;

/** Two sources, of which only the battery has a fuse; the supply goes past it into the SCR. */
export const FUSED_BATTERY = `title: Two sources
fault at: 20 ms
run for: 0.3 s
sources:
  - name: station supply
    part: linear supply 20 A
    fault: {kind: shorted pass transistor, pass resistance: 60 mohm}
    lead: {length: 1.5 m, area: 4 mm2}
  - name: hut battery
    part: AGM battery 100 Ah
    lead: {length: 1 m, area: 4 mm2, fuse: blade fuse 30 A}
crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}
loads:
  - name: relay radio
    part: 100 W radio
    lead: {length: 1 m, area: 4 mm2}
`;
