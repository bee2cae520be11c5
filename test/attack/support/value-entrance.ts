import { formatQuantity } from "@railfault/sim";
import { readRange, readSpread } from "../../../packages/sim/src/scenario/spread/read-spread.ts";
import { visible } from "../../../packages/sim/src/scenario/text/characters.ts";
import { parseQuantity } from "../../../packages/sim/src/units/index.ts";
import { dimensions } from "../../../packages/sim/src/units/table.ts";
import type { Entrance } from "./entrance.ts";
import { HOSTILE, injured } from "./mutate.ts";

const values = ["15 V", "4.7 mF", "2 min 5 s", "-3e-2 A", "1/0 AWG", "13,8 V", "1 000 A", "50 %", "25 °C", "400 A2s"];
const spreads = [
  "±5 %",
  "15 V ± 0.3 V normal",
  "14.3…15.8 V",
  "-20…+80 %",
  "grade resistor 1 %",
  "+-5 % with -3 mV/K from 25 °C",
  "±2 % with ±50 ppm/K",
];
const MARKS = [
  ..."± +- … .. / K with from grade normal ppm % V A s min h e E + - . , 5 15".split(" "),
  " with ",
  " from ",
  "/K",
  "   ",
];
const PIECES = [...HOSTILE, ...MARKS, ...MARKS];

export const writtenValue: Entrance = {
  name: "value and spread",
  enter: (draw) => {
    const dimension = draw.from(dimensions);
    const parsed = parseQuantity(injured(draw, values, PIECES), dimension);
    if (parsed.ok && !Number.isFinite(parsed.value)) throw new Error("a value that is no number");
    if (parsed.ok) formatQuantity(parsed.value, dimension);
    const nominal = { dimension, value: 15, unit: "V", ambient: 25 };
    const text = injured(draw, spreads, PIECES);
    const spread = draw.next() < 0.7 ? readSpread(text, nominal) : readRange(text, nominal);
    if (!("code" in spread) && !(spread.low < spread.high)) throw new Error("a spread of nothing");
    // Where these are shown, a terminal or a page makes what cannot be seen visible.
    const said = [parsed, spread].map((one) => ("message" in one ? one.message : "")).join("\n");
    return { taken: parsed.ok || !("code" in spread), said: visible(said.slice(0, 10_000)) };
  },
};
