import { z } from "zod";
import { count, none, quantity, quantityOrWord, text, words, yesNo } from "./leaf.ts";

const part = (kind: string) =>
  z.string().meta({ description: `name of a part class (${kind}); single values override it`, part: kind });

const point = z
  .strictObject({
    current: quantity("current", "positive", "current of a published point").optional(),
    time: quantity("time", "positive", "its melting time").optional(),
  })
  .meta({ description: "one published point of a melting curve", required: ["current", "time"] });

const gate = z
  .strictObject({
    multiple: quantity("number", "positive", "multiple of the rated current").optional(),
    minimum: quantity("time", "not negative", "shortest opening time allowed").optional(),
    maximum: quantity("time", "positive", "longest opening time allowed").optional(),
  })
  .meta({ description: "one published time gate", required: ["multiple"] });

const fuseMap = z.strictObject({
  part: part("fuse").optional(),
  label: text("what it is called in the verdict").optional(),
  "rated current": quantity("current", "positive", "rated current").optional(),
  "rated voltage": quantity("voltage", "positive", "rated voltage").optional(),
  "breaking capacity": quantity("current", "positive", "largest current it is able to break").optional(),
  "melting I2t": quantity("I2t", "positive", "nominal melting I²t of the data sheet").optional(),
  "cold resistance": quantity("resistance", "positive", "resistance without current").optional(),
  "resistance ratio": quantity("number", "at least one", "resistance at melting over cold resistance").optional(),
  "minimum melting current": quantity("current", "positive", "current that just never melts it, at 25 °C").optional(),
  stages: z
    .array(
      z
        .strictObject({
          weight: quantity("number", "positive", "share of the heating").optional(),
          "time constant": quantity("time", "positive", "thermal time constant").optional(),
        })
        .meta({ required: ["weight", "time constant"] }),
    )
    .min(1)
    .max(3)
    .meta({ description: "thermal stages, weights summing to 1; else fitted from the points" })
    .optional(),
  gates: z.array(gate).min(1).max(20).meta({ description: "published time gates to fit the stages to" }).optional(),
  points: z
    .array(point)
    .min(1)
    .max(40)
    .meta({ description: "published melting times to fit the stages to" })
    .optional(),
  "arc voltage": quantity("voltage", "positive", "voltage across it while it clears").optional(),
  "extinction current": quantity("current", "positive", "below it the arc goes out").optional(),
  "extinction time": quantity("time", "not negative", "how long the current stays below (main fuse)").optional(),
  "melting temperature": z
    .union([none, quantity("temperature", "any", "for re-rating with ambient temperature")])
    .optional(),
  start: words(["warm", "cold"], "warm: at its operating point; cold: at ambient temperature").optional(),
});

/** A fuse: a map, the name of a class, or `none`. */
export const fuse = z.union([part("fuse"), fuseMap]);

const contact = z
  .strictObject({
    resistance: quantity("resistance", "positive", "resistance while closed").optional(),
    "arc voltage": quantity("voltage", "positive", "voltage of the arc while it opens").optional(),
    "extinction current": quantity("current", "positive", "below it the arc goes out").optional(),
    initially: words(["closed", "open"], "state at the start").optional(),
    operations: z
      .array(
        z
          .strictObject({
            time: quantity("time", "not negative", "when, from the start of the run").optional(),
            action: words(["open", "close"], "what happens").optional(),
          })
          .meta({ required: ["time", "action"] }),
      )
      .max(1000)
      .meta({ description: "what happens to it, in order of time" })
      .optional(),
  })
  .meta({ description: "a plug, terminal or hand switch in the lead", required: ["operations"] });

export const lead = z
  .strictObject({
    length: quantity("length", "positive", "length of the lead, one way").optional(),
    area: quantity("area", "positive", "copper cross-section of one conductor").optional(),
    gauge: quantity("gauge", "any", "wire gauge, instead of the area").optional(),
    spacing: quantity("length", "positive", "distance between the centres of the two conductors").optional(),
    contacts: count("number of contacts (plugs, terminals) in the loop").optional(),
    "fuse holders": count("number of fuse holders in the loop, two contacts each").optional(),
    resistance: quantity(
      "resistance",
      "positive",
      "of both conductors with all contacts, instead of length and area",
    ).optional(),
    inductance: quantity("inductance", "positive", "of the loop, instead of length and spacing").optional(),
    "thermal time constant": quantity("time", "positive", "of the wire with its insulation").optional(),
    insulation: z
      .union([
        z.string().meta({ description: "name of an insulation class", part: "insulation" }),
        z.strictObject({
          continuous: quantity("temperature", "any", "continuous limit").optional(),
          "short circuit": quantity("temperature", "any", "limit for the seconds of a short circuit").optional(),
        }),
      ])
      .optional(),
    fuse: fuse.optional(),
    contact: contact.optional(),
  })
  .meta({
    description:
      "a go-and-return pair: by length with area or gauge, or by resistance and inductance with the area for its heating",
  });

export const crowbar = z.union([
  part("crowbar"),
  z.strictObject({
    part: part("crowbar").optional(),
    label: text("what it is called in the verdict").optional(),
    variant: words(
      ["plain", "gate kept on until reset", "crowbar with disconnect"],
      "what keeps the gate driven, and what else the firing does",
    ).optional(),
    "trip voltage": quantity("voltage", "positive", "it fires above this voltage").optional(),
    "sense filter": quantityOrWord("time", ["fast", "RF-filtered"], "time constant of the sense filter").optional(),
    "turn on delay": quantity("time", "not negative", "from the driven gate to conduction").optional(),
    "threshold voltage": quantity("voltage", "not negative", "on-state threshold voltage").optional(),
    "slope resistance": quantity("resistance", "positive", "on-state slope resistance").optional(),
    "stub resistance": quantity("resistance", "not negative", "of the branch outside the junction").optional(),
    inductance: quantity("inductance", "positive", "of the branch").optional(),
    "leak resistance": quantity("resistance", "positive", "while blocking").optional(),
    "holding current": quantity("current", "positive", "below it the SCR stops conducting").optional(),
    "latching current": quantity("current", "not negative", "to be reached once after a firing").optional(),
    "turn off time": quantity(
      "time",
      "not negative",
      "how long the current stays below the holding current",
    ).optional(),
    "fail temperature": quantity("temperature", "any", "junction temperature of failing short").optional(),
    "junction stages": z
      .array(
        z
          .strictObject({
            resistance: quantity("thermal resistance", "positive", "of this stage").optional(),
            "time constant": quantity("time", "positive", "of this stage").optional(),
          })
          .meta({ required: ["resistance", "time constant"] }),
      )
      .min(1)
      .max(6)
      .meta({ description: "junction to case, thermal stages" })
      .optional(),
    "surge duration": quantity("time", "positive", "of the rated half sine").optional(),
    "junction to case": quantity(
      "thermal resistance",
      "positive",
      "total, for stages calibrated to the surge rating",
    ).optional(),
    "case to ambient": quantity("thermal resistance", "positive", "case to ambient, with its heat sink").optional(),
    "case heat capacity": quantity("heat capacity", "positive", "of case and heat sink").optional(),
    ratings: z
      .strictObject({
        "surge current": quantity("current", "positive", "half-sine surge peak").optional(),
        I2t: quantity("I2t", "positive", "I²t for fusing").optional(),
        "junction temperature": quantity("temperature", "any", "limit of the junction").optional(),
        "current rise": quantity("current slew", "positive", "limit of di/dt").optional(),
        "surge windows": z
          .array(
            z
              .strictObject({
                duration: quantity("time", "positive", "window after a firing").optional(),
                rms: quantity("current", "positive", "allowed RMS over it").optional(),
              })
              .meta({ required: ["duration", "rms"] }),
          )
          .min(1)
          .max(20)
          .meta({ description: "the part's own curve of surge current over time" })
          .optional(),
      })
      .optional(),
  }),
]);

export const clamp = z.union([
  part("clamp"),
  z.strictObject({
    part: part("clamp").optional(),
    label: text("what it is called in the verdict").optional(),
    "breakdown voltage": quantity("voltage", "positive", "above it the clamp conducts").optional(),
    "slope resistance": quantity("resistance", "positive", "above the breakdown voltage").optional(),
    "thermal resistance": quantity("thermal resistance", "positive", "junction to ambient").optional(),
    "thermal time constant": quantity("time", "positive", "of the junction").optional(),
    "fails short": yesNo("whether it becomes a short at its energy rating").optional(),
    "short resistance": quantity("resistance", "positive", "once it failed short").optional(),
    ratings: z
      .strictObject({
        energy: quantity("energy", "positive", "energy it is able to take").optional(),
        "peak current": quantity("current", "positive", "peak pulse current").optional(),
        temperature: quantity("temperature", "any", "junction limit").optional(),
      })
      .optional(),
  }),
]);

export const seriesSwitch = z.union([
  part("series switch"),
  z.strictObject({
    part: part("series switch").optional(),
    label: text("what it is called in the verdict").optional(),
    kind: words(["transistor", "relay"], "what opens the line").optional(),
    resistance: quantity("resistance", "positive", "while closed").optional(),
    sense: words(["supply side", "protected side"], "the node that it watches").optional(),
    "sense filter": quantityOrWord("time", ["fast", "RF-filtered"], "time constant of the sense filter").optional(),
    "off voltage": quantity("voltage", "positive", "it opens above this voltage").optional(),
    "opening time": quantity("time", "not negative", "from the decision to the opening").optional(),
    "arc voltage": quantity("voltage", "positive", "transistor: avalanche voltage; relay: arc voltage").optional(),
    "extinction current": quantity("current", "positive", "below it the arc goes out").optional(),
    "extinction time": quantity("time", "not negative", "how long the current stays below").optional(),
    reclose: z
      .union([
        none,
        z
          .strictObject({
            "on voltage": quantity("voltage", "positive", "it closes again below this voltage").optional(),
            "retry time": quantity("time", "not negative", "after this time below the on voltage").optional(),
          })
          .meta({ required: ["on voltage", "retry time"] }),
      ])
      .optional(),
    ratings: z
      .strictObject({
        current: quantity("current", "positive", "rated current").optional(),
        voltage: quantity("voltage", "positive", "rated voltage").optional(),
      })
      .optional(),
  }),
]);
