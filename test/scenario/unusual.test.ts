import { expect, test } from "vitest";
import { InvalidInput } from "../../packages/sim/src/issue/issue.ts";
import { simulate } from "../../packages/sim/src/model/run.ts";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";

const LINE = `fault at: 20 ms
run for: 2 s
sources:
  - {name: linear, part: linear supply 35 A, fault: shorted pass transistor, lead: {length: 2 m, area: 4 mm2}}
main fuse: {part: blade fuse 30 A, rated current: 30 A}
crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: 10 us}
loads:
  - {name: radio, part: "100 W radio, transmitting", limits: {maximum: 16 V}, lead: {length: 2 m, gauge: 10 AWG}}
`;

const read = (from: string, to: string) => parseScenario(LINE.replace(from, to), "line.yaml");
const warned = (from: string, to: string) => read(from, to).issues.filter(({ code }) => code === "unusual-value");

test("a line as it is sold and built gives no warning", () => {
  expect(parseScenario(LINE, "line.yaml").issues).toEqual([]);
});

test.each([
  [
    "area: 4 mm2",
    "area: 4 m2",
    "sources[0].lead.area",
    "This area of 4 m2 lies far above what a 12 V line has, usually 0.02 mm² to 500 mm².",
  ],
  [
    "length: 2 m,",
    "length: 2 mm,",
    "sources[0].lead.length",
    "This length of 2 mm lies far below what a 12 V line has, usually 10 mm to 200 m.",
  ],
  // Three times the set voltage of 13.8 V.
  [
    "maximum: 16 V",
    "maximum: 160 V",
    "loads[0].limits.maximum",
    "This maximum of 160 V lies far above what a 12 V line has, usually 1 V to 41.4 V.",
  ],
  [
    "trip voltage: 15 V",
    "trip voltage: 15 kV",
    "crowbar.trip voltage",
    "This trip voltage of 15 kV lies far above what a 12 V line has, usually 1 V to 41.4 V.",
  ],
  [
    "10 us",
    "10 s",
    "crowbar.sense filter",
    "This sense filter of 10 s lies far above what a 12 V line has, usually 100 ns to 100 ms.",
  ],
  [
    "rated current: 30 A",
    "rated current: 30 mA",
    "main fuse.rated current",
    "This rated current of 30 mA lies far below what a 12 V line has, usually 50 mA to 1 kA.",
  ],
])("%s slipped to %s is warned of at the value", (from, to, path, message) => {
  const issues = warned(from, to);
  expect(issues).toMatchObject([{ severity: "warning", path, message, hint: "check the number and its unit" }]);
  expect(issues[0].position?.excerpt.slice((issues[0].position?.column ?? 0) - 1)).toMatch(
    new RegExp(`^${to.split(": ").at(-1)?.replace(",", "")}`),
  );
});

test("no filter at all, and values just inside, are nobody's slip", () => {
  for (const [from, to] of [
    ["10 us", "0 s"],
    ["10 us", "100 ms"],
    ["maximum: 16 V", "maximum: 41 V"],
    ["area: 4 mm2", "area: 400 mm2"],
  ])
    expect(warned(from, to)).toEqual([]);
});

test("a fuse that melts in normal service tells small currents in their own unit, and names the slip", () => {
  const { scenario } = read("rated current: 30 A", "rated current: 30 mA");
  if (scenario === null) throw new Error("must be read");
  let told: unknown;
  try {
    simulate(scenario, {});
  } catch (problem) {
    told = problem;
  }
  expect(told).toBeInstanceOf(InvalidInput);
  expect((told as InvalidInput).issues).toMatchObject([
    {
      message: expect.stringMatching(/it carries 2\d(\.\d)? A at 25 °C and melts above \d\d(\.\d)? mA\.$/),
      hint: expect.stringContaining("check its `rated current` and the unit"),
    },
  ]);
});
