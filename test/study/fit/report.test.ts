import { describe, expect, test } from "vitest";
import { fitData } from "../../../packages/sim/src/figures.ts";
import {
  type EventRow,
  type Fit,
  fitHeadline,
  fitJson,
  fitStatus,
  renderFit,
} from "../../../packages/sim/src/index.ts";
import { foundValue, madeFit, shownChannel } from "./made.ts";

const untold = foundValue({ state: "untold", value: 15, from: 12, to: 18, error: Number.POSITIVE_INFINITY });

describe("the headline, and what a script is told", () => {
  test.each<[string, Partial<Fit>, 0 | 1]>([
    ["1 of 1 value found; what is left is noise.", {}, 0],
    ["1 of 2 values found, but more than noise is left.", { values: [foundValue(), untold], misfits: ["Odd."] }, 1],
    [
      "1 of 1 value found; what is left is noise. The search was ended before it had come to rest.",
      { isConverged: false },
      1,
    ],
    ["The capture shows no event, and tells no value.", { isQuiet: true, values: [untold] }, 1],
    ["The capture and the scenario do not belong together.", { isAnother: true, misfits: ["Odd."] }, 1],
    ["The run as it stands and the capture differ by no more than noise.", { values: [] }, 0],
    ["The capture shows something else than the run as it stands.", { values: [], misfits: ["Odd."] }, 1],
    [
      "The capture shows no event. The capture shows something else than the run as it stands.",
      { values: [], isQuiet: true, misfits: ["Odd."] },
      1,
    ],
  ])("%s", (said, change, status) => {
    const fit = madeFit(change);
    expect(fitHeadline(fit)).toBe(said);
    expect(fitStatus(fit)).toBe(status);
    expect(fitData(fit).subtitle).toBe(said);
  });
});

test("a scenario without a title gives its figure one all the same", () => {
  expect(fitData(madeFit({ title: "" })).title).toBe("A capture beside its scenario");
  expect(fitData(madeFit()).title).toBe("Captured and simulated: Hut");
});

describe("the text", () => {
  const printed = (change: Partial<Fit>): string => renderFit(madeFit(change), 400);

  test("of another line: no values, for none was found", () => {
    expect(printed({})).toContain("Values, with intervals for 95 %\n  - crowbar: trip voltage: 15.02 V ± 0.03 V");
    expect(printed({ isAnother: true })).not.toContain("intervals for 95 %");
  });

  test.each([
    [2, "every 2nd"],
    [3, "every 3rd"],
    [4, "every 4th"],
    [11, "every 11th"],
    [21, "every 21st"],
  ])("of one sample in %d", (every, said) => {
    expect(printed({ channels: [shownChannel({ every })] })).toContain(
      `"radio" is radio_V, 3 samples, ${said} of the capture, each known to 50 mV; its zero lies at `,
    );
  });

  test("a lag between channels, and channels that were left out", () => {
    const text = printed({
      channels: [shownChannel(), shownChannel({ name: "supply", lag: { value: -2e-6, plusMinus: 1e-6 } })],
      leftOut: ["boiler"],
    });
    expect(text).toContain("; it shows things 2.0 µs ± 1.0 µs before the first channel does. What is left: 50 mV RMS.");
    expect(text).toContain("its zero lies at 10 mV ± 2 mV. What is left:");
    expect(text).toContain('"boiler" belongs to nothing in the scenario, or never changes, and was left out.');
  });

  describe("what happened when", () => {
    const falls: EventRow = {
      channel: "radio",
      what: "falls: SCR fires",
      captured: { value: 0.0121, plusMinus: 2e-5 },
      simulated: 0.01208,
      difference: 2e-5,
    };
    const never: EventRow = { ...falls, what: "rises", simulated: null, difference: null };
    const rowsOf = (events: readonly EventRow[]): string[] => {
      const [, table] = printed({ events }).split("What happened when\n");
      return table === undefined ? [] : table.split("\n\n")[0]!.split("\n");
    };

    test("captured beside simulated, with as many digits as are known; or never", () => {
      expect(rowsOf([falls, never]).map((row) => row.trim().split(/ {2,}/))).toEqual([
        ["captured, ms", "simulated, ms", "difference, ms"],
        ["radio falls: SCR fires", "12.100", "12.080", "0.020 ± 0.020"],
        ["radio rises", "12.100", "never"],
      ]);
    });

    test("nothing of it where nothing did, and of many the first, with how many more there are", () => {
      expect(rowsOf([])).toEqual([]);
      expect(rowsOf(Array.from({ length: 24 }, () => falls))).toHaveLength(1 + 24);
      const many = rowsOf(Array.from({ length: 27 }, () => falls));
      expect(many).toHaveLength(1 + 24 + 1);
      expect(many.at(-1)).toBe("  and 3 more");
    });
  });
});

test("as data, with a scenario and a verdict or without", () => {
  expect(fitJson(madeFit())).toMatchObject({
    scenario: null,
    verdict: null,
    values: [{ path: "crowbar.trip voltage" }],
  });
  expect(fitJson(madeFit({ scenario: "title: Hut\n" })).scenario).toEqual({ text: "title: Hut\n" });
});
