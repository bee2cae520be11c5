import { z } from "zod";
import { load, source } from "./ends.ts";
import { quantity, text, words } from "./leaf.ts";
import { clamp, crowbar, fuse, seriesSwitch } from "./line-parts.ts";
import { variantsSchema } from "./variant.ts";

const node = z.strictObject({
  capacitance: quantity("capacitance", "positive", "from the node to ground").optional(),
  resistance: quantity("resistance", "positive", "in series with that capacitance").optional(),
});

// What a variant may change: everything but the fault and the time in which it is looked at.
const line = {
  ambient: quantity("temperature", "any", "ambient temperature").optional(),
  nodes: z
    .strictObject({
      "supply side": node.optional(),
      "protected side": node.optional(),
      "radio side": node.optional(),
    })
    .meta({ description: "stray and filter capacitances of the line" })
    .optional(),
  sources: z.array(source).min(1).max(20).meta({ description: "supplies, chargers, batteries and panels" }).optional(),
  loads: z.array(load).min(1).max(20).meta({ description: "radios, lamps, dummy loads" }).optional(),
  "main fuse": fuse.optional(),
  crowbar: crowbar.optional(),
  clamp: clamp.optional(),
  "series switch": seriesSwitch.optional(),
};

// Every key is optional here: whether a value is missing depends on the part classes, so `resolveScenario` says it.
export const scenarioSchema = z
  .strictObject({
    title: text("one line").optional(),
    question: text("the question that the scenario answers").optional(),
    "fault at": quantity("time", "not negative", "instant of the fault, common to all sources").optional(),
    "run for": quantity("time", "positive", "end of the run").optional(),
    start: words(
      ["operating", "dead"],
      "operating: from the healthy operating point; dead: everything at zero but batteries",
    ).optional(),
    ...line,
    variants: variantsSchema(line).optional(),
    tolerances: z
      .record(z.string(), text("a spread: `±5 %`, `±0.3 V`, `14.3…15.8 V`, `grade …`"))
      .meta({ description: "values that are not known exactly, by their paths; only `railfault tolerances` uses them" })
      .optional(),
  })
  .meta({
    title: "Railfault scenario",
    description: "One 12 V line, its fault and its limits",
    required: ["fault at", "run for", "sources", "loads"],
  });

/** What a user writes: quantities are text with their unit. */
export type ScenarioText = z.input<typeof scenarioSchema>;
