import { changeTexts, variantLines } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText, withVariants } from "../study/compare/lines.ts";

const BASE = "01-shorted-pass-transistor";
const PANEL = "09-panel-and-battery";

const battery = (name: string, lead: string): string => `{name: ${name}, part: AGM battery 100 Ah, lead: ${lead}}`;

/** The line with three batteries, the last of them without a fuse of its own. */
const batteries = changeTexts(shippedText(BASE), [
  [["sources", 1], battery("first", "{length: 1 m, area: 6 mm2, fuse: blade fuse 20 A}")],
  [["sources", 2], battery("second", "{length: 1 m, area: 6 mm2, fuse: blade fuse 20 A}")],
  [["sources", 3], battery("third", "{length: 1 m, area: 6 mm2}")],
]);

const CURRENT =
  "{name: lamp, kind: constant current, current: 2 A, input capacitance: 1 mF, esr: 10 mohm, limits: {minimum: 11 V, maximum: 20 V}, lead: {length: 1 m, area: 4 mm2}}";

/** What is said of the variants of a line: where, what, and at which line and column. */
function told(text: string, variants: string) {
  const { issues } = variantLines(`${text}variants:\n${variants}`, "hut.yaml");
  const first = text.split("\n").length;
  return issues.flatMap(({ path, code, message, received, allowed, hint, position }) =>
    message.startsWith("In the variant") || path.startsWith("variants")
      ? [
          {
            path,
            code,
            message,
            received,
            allowed,
            hint,
            line: Number(position?.line) - first,
            column: position?.column,
          },
        ]
      : [],
  );
}

describe("a problem of a variant is told where the file says what leads to it", () => {
  test.each([
    "{name: first, part: none}, {name: second, part: none}",
    "{name: second, part: none}, {name: first, part: none}",
  ])("at the fourth source where the two before it are taken away: %s", (away) => {
    const [issue, ...others] = told(batteries, `  - {name: a, main fuse: none, sources: [${away}]}\n`);
    expect(others).toEqual([]);
    expect(issue).toMatchObject({ path: "sources[3]", code: "no-fuse-before-crowbar" });
    expect(issue.message).toBe(
      "In the variant `a`: No fuse stands between third and the SCR: once fired, only the wire limits the current.",
    );
  });

  test("two batteries taken away in either order leave the same line", () => {
    const { variants } = variantLines(
      `${batteries}variants:
  - {name: a, sources: [{name: second, part: none}, {name: first, part: none}]}
  - {name: b, sources: [{name: first, part: none}, {name: second, part: none}]}
`,
      "hut.yaml",
    );
    for (const { parsed } of variants)
      expect(parsed.scenario?.sources.map(({ name }) => name)).toEqual(["station supply", "third"]);
  });

  test("at the variant's own word beside its scheme", () => {
    const line = changeTexts(shippedText(BASE), [[["crowbar"], null]]);
    const variant = "  - {name: a, scheme: SCR with fuse, crowbar: {trip voltage: 12 V}}\n";
    expect(told(line, variant)).toMatchObject([
      {
        path: "variants[0].crowbar.trip voltage",
        code: "trips-at-rest",
        received: "12 V",
        line: 1,
        column: variant.indexOf("12 V") + 1,
      },
    ]);
  });

  test("at the word that takes away a value which no part class gives", () => {
    const line = changeTexts(shippedText(BASE), [[["loads", 0], CURRENT]]);
    const variant = "  - {name: a, loads: [{name: lamp, current: none}]}\n";
    const [issue] = told(line, variant);
    expect(issue).toMatchObject({
      path: "variants[0].loads[0].current",
      code: "missing",
      line: 1,
      column: variant.indexOf("none") + 1,
    });
    expect(issue.message).toBe("In the variant `a`: The value `current` of lamp is missing; it has no default.");
  });
});

describe("a variant meets the fault of its line", () => {
  const two = changeTexts(shippedText(PANEL), [
    [
      ["sources", 2],
      "{name: supply, part: linear supply 20 A, fault: {kind: shorted pass transistor, pass resistance: 50 mohm}, lead: {length: 1 m, area: 4 mm2}}",
    ],
  ]);
  const charger = (more: string): string =>
    `  - {name: a, sources: [{name: charger, part: battery charger 10 A,${more} lead: {length: 1 m, area: 4 mm2}}]}\n`;

  test("one that takes away a source that fails has another one", () => {
    expect(told(two, "  - {name: a, sources: [{name: supply, part: none}]}\n")).toMatchObject([
      {
        path: "variants[0]",
        message: "In the variant `a`: The fault of `supply` is not there: all variants meet the same fault.",
        received: null,
        allowed: "shorted pass transistor: pass resistance 50 mΩ",
        hint: "leave the source that fails in the line",
      },
    ]);
    expect(told(two, "  - {name: a, sources: [{name: roof panel, part: none}]}\n")).toMatchObject([
      { code: "other-fault", allowed: "shorted controller" },
    ]);
  });

  test("a charger that is added would lose its feedback by itself, and is told to have no fault", () => {
    const [issue] = told(two, charger(""));
    expect(issue).toMatchObject({
      message: "In the variant `a`: `charger` has a fault that the line has not: all variants meet the same fault.",
      allowed: "no fault",
      hint: "write `fault: none` for it",
    });
    expect(issue.received).toMatch(/^lost feedback: ceiling voltage \d+ V, slew /);
    expect(told(two, charger(" fault: none,"))).toEqual([]);
    expect(told(two, charger(" fault: lost feedback,"))).toMatchObject([
      { path: "variants[0].sources[0].fault", allowed: "`fault: none`, for a new source without one" },
    ]);
  });
});

describe("what follows from an error is not told beside it", () => {
  test("where the line's own sources cannot be read, nobody knows whom a variant takes away", () => {
    const away = "  - {name: a, sources: [{name: station supply, part: none}]}\n";
    const nameless = shippedText(BASE).replace("name: station supply", "nme: station supply");
    expect(told(nameless, away)).toEqual([]);
    const none = changeTexts(shippedText(BASE), [[["sources"], "station supply"]]);
    expect(told(none, away)).toEqual([]);
  });

  test("a variant that is a list, has a list as its name or a word as its source is told of once", () => {
    const variants =
      "  - [relay]\n  - {name: [a], crowbar: none}\n  - {name: b, sources: [x]}\n  - {name: c, crowbar: none}\n";
    expect(told(shippedText(BASE), variants).map(({ path, code }) => `${path} ${code}`)).toEqual([
      "variants[0] wrong-type",
      "variants[1].name wrong-type",
      "variants[2].sources[0] wrong-type",
    ]);
    const { variants: read } = variantLines(withVariants(BASE, variants), "hut.yaml");
    expect(read.map(({ name, parsed }) => [name, parsed.scenario === null])).toEqual([
      ["", true],
      ["", true],
      ["b", true],
      ["c", false],
    ]);
  });
});
