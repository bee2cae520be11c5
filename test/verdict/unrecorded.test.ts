import { expect, test } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { renderText } from "../../packages/sim/src/report/text.ts";
import { textOf } from "../scenarios/shipped.ts";

/** The whole answer as text. */
function answer(text: string, record: boolean): string {
  const result = runScenario(text, "a.yaml", { record, leaps: false });
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return renderText(result.verdict);
}

const FUSE_RATED_20_V = textOf("01-shorted-pass-transistor.yaml").replace(
  "main fuse: blade fuse 20 A",
  "main fuse: {part: blade fuse 20 A, rated voltage: 20 V}",
);
const SWITCH_RATED_1_A = textOf("11-series-transistor.yaml").replace(
  /^series switch: \{/m,
  "series switch: {ratings: {current: 1 A, voltage: 20 V}, ",
);

test.each<[string, string, RegExp]>([
  ["a fuse's voltage", FUSE_RATED_20_V, /rated 20 V but had 2\d(\.\d)? V to keep off/],
  ["a switch's current and voltage", SWITCH_RATED_1_A, /more than 1 A, which it carries for ever, for [\d.]+ ms/],
  ["a lead's overcurrent", textOf("16-fuse-on-wrong-side.yaml"), /./],
  ["a crowbar that is held", textOf("18-arc-held.yaml"), /its junction passes its limit/],
  ["a battery that is charged", textOf("09-panel-and-battery.yaml"), /is still being charged with/],
])("a run without waveforms is judged like one with them: %s", (_, text, says) => {
  const kept = answer(text, true);
  expect(kept.replace(/\s+/g, " ")).toMatch(says);
  expect(answer(text, false)).toBe(kept);
});
