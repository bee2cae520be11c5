import { expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";

const FIRST_DRAFT = `fault at: 20
run for: 1 sec
sources:
  - name: linear
    part: linear 35 A
    voltage: 13,8 V
    lead: {length: 100 mm2, area: 4 mm}
fuse: 30A
crowbar: {part: SCR55, trip: 15 V}
loads:
  - {name: r, part: 100W radio, limits: {maximum: 16}, lead: {length: 1 furlong, gauge: 12 AWG}}
`;

test("every slip of a first draft comes with what the program knows of it", () => {
  const { issues } = parseScenario(FIRST_DRAFT, "draft.yaml");
  const told = issues.map(({ position, code, hint }) => `${position?.line} ${code}: ${hint}`);
  expect(told).toEqual([
    "1 missing-unit: put the unit behind it: s, ms, us, µs, ns, min or h",
    "2 unknown-unit: did you mean s?",
    "5 unknown-part: did you mean `linear supply 35 A`?",
    "6 unknown-key: did you mean `set voltage` or `knee voltage` or `open circuit voltage`?",
    "6 decimal-comma: write 13.8 V",
    "7 wrong-unit: a length is written as in 1.5 m; 100 mm2 belongs to `area`",
    // Both a length and a spacing would take it.
    "7 wrong-unit: an area is written as in 2.5 mm2",
    "8 unknown-key: did you mean `main fuse`?",
    "9 unknown-part: did you mean `SCR 55 A`?",
    "9 unknown-key: did you mean `trip voltage`?",
    "11 missing-unit: put the unit behind it: V, mV, uV, µV or kV",
    "11 unknown-unit: write it as in 1.5 m",
  ]);
});

test("a spread in the place of a value is told where it belongs", () => {
  const helps = (written: string) =>
    parseScenario(FIRST_DRAFT.replace("length: 100 mm2", `length: ${written}`), "draft.yaml").issues.find(
      ({ path, received }) => path === "sources[0].lead.length" && received === written,
    )?.hint;
  for (const written of ["1…3 m", "2 m ± 10 %", "1..3 m"])
    expect(helps(written)).toBe("write one value here, and its spread as a line of `tolerances`");
  expect(helps("1 furlong")).not.toContain("tolerances");
});
