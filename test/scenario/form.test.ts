import { describe, expect, test } from "vitest";
import {
  changeText,
  FORM_CHANGES,
  type FormChange,
  inPresentForm,
  parseScenario,
  SCENARIO_FORM,
  setValue,
} from "../../packages/sim/src/scenario/index.ts";
import { station } from "../cli/launch.ts";

const present = `format: railfault-scenario ${SCENARIO_FORM}\n`;

/** What a later form might bring: keys renamed, one after the other. */
const changes: readonly FormChange[] = [
  { from: 1, why: "the trade says so", change: (text) => text.replace(/^surroundings:/m, "room:") },
  { from: 2, why: "it is the air that counts", change: (text) => text.replace(/^room:/m, "ambient:") },
];

test("every form has its step to the next one", () => {
  expect(FORM_CHANGES.map(({ from }) => from)).toEqual(FORM_CHANGES.map((_, index) => index + 1));
  expect(SCENARIO_FORM).toBe(FORM_CHANGES.length + 1);
});

describe("a file with the present form", () => {
  test("says what one without a form says", () => {
    const [told, untold] = [present + station(), station()].map((text) => parseScenario(text, "a.yaml"));
    expect(told?.issues).toEqual(
      untold?.issues.map((issue) => ({ ...issue, position: issue.position && expect.anything() })),
    );
    expect(told?.scenario).not.toBeNull();
    expect(told?.scenario).toEqual(untold?.scenario);
  });

  test("is left as it is", () => {
    expect(inPresentForm(present + station())).toBe(present + station());
    expect(inPresentForm(station())).toBe(station());
    expect(setValue(`${present}ambient: 20 °C\n`, ["ambient"], "35 °C")).toBe(`${present}ambient: 35 °C\n`);
    expect(changeText(`${present}ambient: 20 °C\n`, ["ambient"], null)).toBe(present);
  });
});

describe("a form that is not read", () => {
  test("a later one is one problem, with its place and what helps", () => {
    const later = `format: railfault-scenario ${SCENARIO_FORM + 1}\nunheard of: 3\n`;
    const { scenario, issues } = parseScenario(later, "a.yaml");
    expect(scenario).toBeNull();
    expect(issues).toMatchObject([
      {
        severity: "error",
        code: "later-form",
        path: "format",
        received: `railfault-scenario ${SCENARIO_FORM + 1}`,
        allowed: `railfault-scenario ${SCENARIO_FORM}`,
        hint: "use a newer version of the program",
        position: { line: 1, column: 9 },
      },
    ]);
  });

  test.each(["railfault-result 1", "1", "railfault-scenario 0", "railfault-scenario 1.5"])("%s", (name) => {
    const { issues } = parseScenario(`format: ${name}\n${station()}`, "a.yaml");
    expect(issues.map(({ code, path }) => `${path}: ${code}`)).toContain("format: unknown-word");
  });
});

describe("older forms", () => {
  test("come to the present one step by step, every other line byte for byte", () => {
    const text = "# hut\nformat: railfault-scenario 1   # as of old\nsurroundings:   20 °C # warm\n\nloads: []\n";
    expect(inPresentForm(text, changes)).toBe(
      "# hut\nformat: railfault-scenario 3   # as of old\nambient:   20 °C # warm\n\nloads: []\n",
    );
  });

  test("begin in the middle where the file does", () => {
    const text = "format: 'railfault-scenario 2'\nroom: 20 °C\nsurroundings: stays\n";
    expect(inPresentForm(text, changes)).toBe("format: 'railfault-scenario 3'\nambient: 20 °C\nsurroundings: stays\n");
  });

  test("without a form are the first", () => {
    expect(inPresentForm("surroundings: 20 °C\n", changes)).toBe("format: railfault-scenario 3\nambient: 20 °C\n");
  });

  test("brought there once are not changed again, nor are later ones", () => {
    const once = inPresentForm("surroundings: 20 °C\n", changes);
    expect(inPresentForm(once, changes)).toBe(once);
    const later = "format: railfault-scenario 4\nsurroundings: 20 °C\n";
    expect(inPresentForm(later, changes)).toBe(later);
  });

  test("are told by the key at the margin alone", () => {
    const text = "title: |\n  format: railfault-scenario 1\nformat: railfault-scenario 3\nsurroundings: 20 °C\n";
    expect(inPresentForm(text, changes)).toBe(text);
  });
});
