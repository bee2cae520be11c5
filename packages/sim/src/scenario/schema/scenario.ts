import * as z from "zod/mini";
import { formName, SCENARIO_FORM } from "../text/form.ts";
import { described, list, map } from "./build.ts";
import { load, source } from "./ends.ts";
import { quantity, text, words } from "./leaf.ts";
import { clamp, crowbar, fuse, seriesSwitch } from "./line-parts.ts";
import { variantsSchema } from "./variant.ts";

const node = map({
  capacitance: quantity("capacitance", "positive", "from the node to ground"),
  resistance: quantity("resistance", "positive", "in series with that capacitance"),
});

// What a variant may change: everything but the fault and the time in which it is looked at.
const line = {
  ambient: quantity("temperature", "ambient", "ambient temperature, −60 to 150 °C"),
  nodes: map(
    {
      "supply side": node,
      "protected side": node,
      "radio side": node,
    },
    { description: "stray and filter capacitances of the line" },
  ),
  sources: list(source, [1, 20], { description: "supplies, chargers, batteries and panels" }),
  loads: list(load, [1, 20], { description: "radios, lamps, dummy loads" }),
  "main fuse": fuse,
  crowbar: crowbar,
  clamp: clamp,
  "series switch": seriesSwitch,
};

export const scenarioSchema = map(
  {
    format: words([formName(SCENARIO_FORM)], "form of this file; left out: the first"),
    title: text("one line", 120),
    question: text("the question that the scenario answers", 500),
    "fault at": quantity("time", "not negative", "instant of the fault, common to all sources"),
    "run for": quantity("time", "positive", "end of the run"),
    start: words(
      ["operating", "dead"],
      "operating: from the healthy operating point; dead: everything at zero but batteries",
    ),
    ...line,
    variants: variantsSchema(line),
    tolerances: described(z.record(z.string(), text("a spread: `±5 %`, `±0.3 V`, `14.3…15.8 V`, `grade …`", 200)), {
      description: "values that are not known exactly, by their paths; only `railfault tolerances` uses them",
    }),
  },
  {
    title: "Railfault scenario",
    description: "One 12 V line, its fault and its limits",
    required: ["fault at", "run for", "sources", "loads"],
  },
);

/** What a user writes: quantities are text with their unit. `scenarioJsonSchema` and the page on scenario files tell every key. */
export type ScenarioText = z.input<typeof scenarioSchema>;
