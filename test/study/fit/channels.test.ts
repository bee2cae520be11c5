import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { layCapture, type Trace } from "../../../packages/sim/src/index.ts";
import { columnsFor } from "../../../packages/sim/src/study/fit/channels.ts";
import { read } from "../../capture/read.ts";
import { root } from "../../ground/files.ts";
import { captureOf, scenarioWith } from "./bench.ts";

const trace: Trace = {
  time: Float64Array.of(0, 1),
  columns: ["supply_V", "supply_A", "radio_V", "radio_A", "second_radio_V", "third_radio_V", "line_V"].map((name) => ({
    name,
    unit: name.endsWith("A") ? ("A" as const) : ("V" as const),
    values: new Float64Array(2),
  })),
};

const capture = (names: readonly string[], unit: "V" | "A" = "V", rows = 12) =>
  captureOf(
    Float64Array.from({ length: rows }, (_, k) => k * 1e-4),
    names.map((name) => ({ name, unit, values: new Float64Array(rows).fill(13.8) })),
  );

/** Which column each channel shows; what is wrong, where something is. */
function shown(names: readonly string[], told: readonly string[] = [], unit: "V" | "A" = "V") {
  const owners = ["supply", "radio", "second_radio", "third_radio"];
  const { columns, issues } = columnsFor(capture(names, unit), trace, owners, told);
  return issues.length === 0 ? columns : issues.map(({ code, received, hint }) => ({ code, received, hint }));
}

describe("which column a channel shows", () => {
  test("the one with all words of its name, without those that every name may have", () => {
    expect(shown(["Supply voltage", "line"])).toEqual(["supply_V", "line_V"]);
    expect(shown(["Supply current"], [], "A")).toEqual(["supply_A"]);
  });

  test("of several the one with no word more", () => {
    expect(shown(["radio", "second radio"])).toEqual(["radio_V", "second_radio_V"]);
  });

  test("none, where a name has no word of its own", () => {
    const hint = "say which is which: voltage = supply_V (in the command: --channels 'voltage = supply_V')";
    expect(shown(["voltage"])).toEqual([{ code: "another-line", received: "voltage (V)", hint }]);
    expect(shown(["Current A"], [], "A")).toMatchObject([
      { hint: expect.stringContaining("say which is which: Current A = supply_A (") },
    ]);
  });

  test("what is told comes first, but no column is shown twice", () => {
    expect(shown(["voltage", "radio"], ["voltage = third radio V"])).toEqual(["third_radio_V", "radio_V"]);
    expect(shown(["radio", "CH2"], ["CH2 = radio_V"])).toMatchObject([{ code: "same-value", received: "radio_V" }]);
  });

  test.each([
    [["CH3 = radio_V"], "no-such-channel", "CH3"],
    [["radio"], "no-such-column", ""],
    [["radio = moon_V"], "no-such-column", "moon_V"],
    [["radio = radio_A"], "wrong-unit", "radio_A"],
  ])("what is told wrongly is refused: %j", (told, code, received) => {
    expect(shown(["radio"], told)).toMatchObject([{ code, received }]);
  });
});

test("a capture of fewer than eight samples tells nothing", async () => {
  const refusal = async (rows: number) => {
    const answer = await layCapture(scenarioWith("02-hiccup-supply", {}), "hut.yaml", capture(["radio"], "V", rows), {
      channels: [],
    });
    return answer.kind === "refused" ? answer.issues : [];
  };
  expect(await refusal(7)).toMatchObject([{ code: "too-short", path: "capture", received: "7 rows" }]);
});

test("a column in A for a channel in V: what makes a current of a clamp's volts is said, with all channels", () => {
  const [issue] = shown(["radio", "CH2"], ["CH2 = supply_A"]) as { readonly hint: string | null }[];
  expect(issue!.hint).toContain('if "CH2" shows a current');
  expect(issue!.hint).toContain('with a clamp of 10 mV/A: --channel "2: radio, V; 3: CH2, V, 100 A/V"');
});

test("a channel that never changes is left out: known to nothing at all it would outweigh every other", async () => {
  const file = "shorted-pass-transistor-synthetic-comma.csv";
  const text = readFileSync(join(root, "packages/sim/captures", file), "utf8");
  const lay = async (changed: string) => {
    const { capture } = read(changed);
    return layCapture(scenarioWith("01-shorted-pass-transistor", {}), "hut.yaml", capture!, { channels: [] });
  };
  const laid = await lay(text.replaceAll(/^(\d\S*?,\S*?),.*$/gm, "$1,0"));
  if (laid.kind !== "fitted") throw new Error("refused");
  expect([laid.leftOut, laid.misfits]).toEqual([["crowbar"], []]);
  expect(laid.channels.map(({ name }) => name)).toEqual(["radio"]);
});
