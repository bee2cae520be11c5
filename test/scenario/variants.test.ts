import {
  changeTexts,
  checkScenario,
  parseScenario,
  runScenario,
  SCHEME_WORDS,
  variantLines,
  variantText,
} from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText, withVariants } from "../study/compare/lines.ts";

const BASE = "01-shorted-pass-transistor";
const read = (variants: string) => variantLines(withVariants(BASE, variants), "hut.yaml");
const told = (variants: string): string[] =>
  read(variants).issues.map(({ code, position, path }) => `${position?.line}:${position?.column} ${path} ${code}`);
const line = shippedText(BASE).split("\n").length;

describe("a variant is laid over the line", () => {
  test("maps over maps, short forms over the map they stand for, and the rest stays", () => {
    const { variants, issues } = read(
      "  - {name: other, crowbar: SCR 40 A, main fuse: {rated current: 25 A}, nodes: {protected side: {capacitance: 2 uF}}}\n",
    );
    expect(issues).toEqual([]);
    const byHand = changeTexts(shippedText(BASE), [
      [["crowbar", "part"], "SCR 40 A"],
      [["main fuse"], "{part: blade fuse 20 A, rated current: 25 A}"],
      [["nodes"], "{protected side: {capacitance: 2 uF}}"],
      [["title"], '"Shorted pass transistor: other"'],
    ]);
    expect(variants[0].parsed.scenario).toEqual(parseScenario(byHand, "b.yaml").scenario);
  });

  test("sources and loads by their names; a new name adds one, `part: none` takes one away", () => {
    const battery =
      "{name: hut battery, part: AGM battery 100 Ah, lead: {length: 1 m, area: 6 mm2, fuse: blade fuse 30 A}}";
    const text = `${changeTexts(shippedText(BASE), [[["sources", 1], battery]])}variants:
  - {name: alone, sources: [{name: hut battery, part: none}]}
  - {name: longer, sources: [{name: hut battery, lead: {length: 3 m}}]}
  - {name: two, loads: [{name: link radio, part: 25 W mobile radio, lead: {length: 1 m, area: 4 mm2}}]}
`;
    const { variants, issues } = variantLines(text, "hut.yaml");
    expect(issues.filter(({ severity }) => severity === "error")).toEqual([]);
    const [alone, longer, two] = variants.map(({ parsed }) => parsed.scenario);
    expect(alone?.sources.map(({ name }) => name)).toEqual(["station supply"]);
    expect(longer?.sources.map(({ lead }) => lead.fuse !== null)).toEqual([false, true]);
    expect(longer?.sources[1].lead.resistance).toBeGreaterThan(1.5 * (two?.sources[1].lead.resistance ?? 1));
    expect(two?.loads.map(({ name }) => name)).toEqual(["relay radio", "link radio"]);
  });

  test("`none` takes a part away, and a single value back to its class", () => {
    const { variants } = read(
      "  - {name: a, crowbar: none}\n  - {name: b, crowbar: {sense filter: RF-filtered, part: SCR 40 A}}\n",
    );
    expect(variants[0].parsed.scenario?.crowbar).toBeNull();
    const own = changeTexts(shippedText(BASE), [[["sources", 0, "esr"], "10 mohm"]]);
    const text = `${own}variants:\n  - {name: as bought, sources: [{name: station supply, esr: none}]}\n`;
    const [bought] = variantLines(text, "hut.yaml").variants;
    expect(bought.parsed.scenario?.sources[0]).toMatchObject({ esr: 0.03 });
  });

  test("a scheme first, then what stands beside it", () => {
    const { variants } = read("  - {name: late, scheme: relay, series switch: {off voltage: 15.5 V}}\n");
    expect(variants[0].parsed.scenario).toMatchObject({
      crowbar: null,
      seriesSwitch: { kind: "relay", offVoltage: 15.5 },
    });
  });
});

test("every ready-made scheme, written as a file of its own, is the very scenario that was compared, with every remark kept", () => {
  for (const name of [
    BASE,
    "02-hiccup-supply",
    "14-crowbar-with-disconnect",
    "20-battery-terminal-falls-off",
    "22-supplys-own-scr",
  ]) {
    const text = shippedText(name);
    const { schemes } = variantLines(text, "hut.yaml", { schemes: SCHEME_WORDS });
    expect(schemes).toHaveLength(SCHEME_WORDS.length);
    for (const scheme of schemes) {
      if (scheme.parsed.scenario === null) continue;
      const own = variantText(text, scheme);
      expect(parseScenario(own, "own.yaml").scenario, `${name}: ${scheme.name}`).toEqual(scheme.parsed.scenario);
      for (const remark of text.match(/^#.*$/gm) ?? []) expect(own).toContain(remark);
    }
  }
});

test("a run takes no notice of variants", () => {
  const plain = runScenario(shippedText(BASE), "hut.yaml");
  const more = runScenario(withVariants(BASE, "  - nothing\n  - {name: b, crowbar: SCR 40 A}\n"), "hut.yaml");
  if (plain.kind === "refused" || more.kind === "refused") throw new Error("refused");
  expect(more.scenario).toEqual(plain.scenario);
  expect(more.verdict).toEqual(plain.verdict);
});

describe("what is wrong is said with its place, all at once", () => {
  test("names, words, keys, faults of their own and lines that cannot be run", () => {
    expect(
      told(`  - {crowbar: none}
  - {name: a, crowbr: none}
  - {name: A, clamp: clamp diode 9 W}
  - {name: b, run for: 1 s, clamp: none}
  - {name: c, sources: [{name: station supply, fault: none}]}
  - {name: d, sources: [{name: no such, part: none}]}
  - {name: e, sources: [{name: station supply, part: none}]}
  - {name: as it stands, crowbar: none}
  - {name: f, crowbar: {trip voltage: 12 V}}
  - {name: g, loads: [{name: relay radio, part: none, current: 1 A}]}
  - relais
`),
    ).toEqual([
      `${line + 1}:5 variants[0].name missing`,
      `${line + 2}:15 variants[1].crowbr unknown-key`,
      `${line + 3}:12 variants[2].name duplicate-name`,
      `${line + 3}:22 variants[2].clamp unknown-part`,
      `${line + 4}:15 variants[3].run for fault-in-variant`,
      `${line + 5}:48 variants[4].sources[0].fault fault-in-variant`,
      `${line + 6}:32 variants[5].sources[0].name unknown-name`,
      `${line + 7}:25 variants[6].sources[0] wrong-number-of-entries`,
      `${line + 8}:12 variants[7].name duplicate-name`,
      `${line + 9}:39 variants[8].crowbar.trip voltage trips-at-rest`,
      `${line + 10}:23 variants[9].loads[0] wrong-number-of-entries`,
      `${line + 10}:55 variants[9].loads[0].current key-without-effect`,
      `${line + 11}:5 variants[10] unknown-word`,
    ]);
  });

  test("variants that change nothing, or come to the same as another", () => {
    expect(
      told(`  - {name: a, crowbar: {part: SCR 55 A}}
  - {name: b, crowbar: {trip voltage: 15 V}}
  - SCR with fuse
  - {name: c, crowbar: SCR 40 A}
  - {name: d, crowbar: {part: SCR 40 A}}
`),
    ).toEqual([
      `${line + 1}:5 variants[0] changes-nothing`,
      `${line + 2}:5 variants[1] changes-nothing`,
      `${line + 3}:5 variants[2] changes-nothing`,
      `${line + 5}:5 variants[4] same-variant`,
    ]);
  });

  test("another class of supply that would fail with other figures", () => {
    const text = `${shippedText("02-hiccup-supply")}variants:\n  - {name: linear, sources: [{name: station supply, part: linear supply 20 A}]}\n`;
    const [issue] = variantLines(text, "hut.yaml").issues;
    expect(issue).toMatchObject({ code: "other-fault", path: "variants[0]" });
    expect(issue.hint).toContain("ceiling voltage");
  });

  test("an operating point that a variant has not is told by the check, at the variant's own words", () => {
    const text = withVariants(
      BASE,
      '  - {name: small, loads: [{name: relay radio, part: "100 W radio, transmitting"}], main fuse: blade fuse 5 A}\n',
    );
    const { scenario, issues } = checkScenario(text, "hut.yaml");
    expect(scenario).toBeNull();
    expect(issues.map(({ code, path }) => `${path} ${code}`)).toEqual([
      "variants[0].main fuse melts-at-rest",
      "variants[0].main fuse fuse-melts-in-service",
    ]);
    expect(checkScenario(shippedText("28-schemes-side-by-side"), "28.yaml").scenario).not.toBeNull();
  });
});
