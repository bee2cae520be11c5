import * as z from "zod/mini";
import { described, list, map } from "./build.ts";
import { count, name, none, quantity, quantityOrWord, words, yesNo } from "./leaf.ts";

const part = (kind: string) =>
  described(z.string(), { description: `name of a part class (${kind}); single values override it`, part: kind });

const point = map(
  {
    current: quantity("current", "positive", "current of a published point"),
    time: quantity("time", "positive", "its melting time"),
  },
  { description: "one published point of a melting curve", required: ["current", "time"] },
);

const gate = map(
  {
    multiple: quantity("number", "positive", "multiple of the rated current"),
    minimum: quantity("time", "not negative", "shortest opening time allowed"),
    maximum: quantity("time", "positive", "longest opening time allowed"),
  },
  { description: "one published time gate", required: ["multiple"] },
);

const fuseMap = map({
  part: part("fuse"),
  label: name("what it is called in the verdict"),
  "rated current": quantity("current", "positive", "rated current"),
  "rated voltage": quantity("voltage", "positive", "rated voltage"),
  "breaking capacity": quantity("current", "positive", "largest current it is able to break"),
  "melting I2t": quantity("I2t", "positive", "nominal melting I²t of the data sheet"),
  "cold resistance": quantity("resistance", "positive", "resistance without current"),
  "resistance ratio": quantity("number", "at least one", "resistance at melting over cold resistance"),
  "minimum melting current": quantity("current", "positive", "current that just never melts it, at 25 °C"),
  stages: list(
    map(
      {
        weight: quantity("number", "positive", "share of the heating"),
        "time constant": quantity("time", "positive", "thermal time constant"),
      },
      { required: ["weight", "time constant"] },
    ),
    [1, 3],
    { description: "thermal stages, weights summing to 1; else fitted from the points" },
  ),
  gates: list(gate, [1, 20], { description: "published time gates to fit the stages to" }),
  points: list(point, [1, 40], { description: "published melting times to fit the stages to" }),
  "arc voltage": quantity("voltage", "positive", "voltage across it while it clears"),
  "extinction current": quantity("current", "positive", "below it the arc goes out"),
  "extinction time": quantity("time", "not negative", "how long the current stays below (main fuse)"),
  "melting temperature": z.union([
    none,
    quantity("temperature", "limit of a part", "for re-rating with ambient temperature"),
  ]),
  start: words(["warm", "cold"], "warm: at its operating point; cold: at ambient temperature"),
});

/** A fuse: a map, the name of a class, or `none`. */
export const fuse = z.union([part("fuse"), fuseMap]);

const contact = map(
  {
    resistance: quantity("resistance", "positive", "resistance while closed"),
    "arc voltage": quantity("voltage", "positive", "voltage of the arc while it opens"),
    "extinction current": quantity("current", "positive", "below it the arc goes out"),
    initially: words(["closed", "open"], "state at the start"),
    operations: list(
      map(
        {
          time: quantity("time", "not negative", "when, from the start of the run"),
          action: words(["open", "close"], "what happens"),
        },
        { required: ["time", "action"] },
      ),
      [0, 1000],
      { description: "what happens to it, in order of time" },
    ),
  },
  { description: "a plug, terminal or hand switch in the lead", required: ["operations"] },
);

export const lead = map(
  {
    length: quantity("length", "positive", "length of the lead, one way"),
    area: quantity("area", "positive", "copper cross-section of one conductor"),
    gauge: quantity("gauge", "any", "wire gauge, instead of the area"),
    spacing: quantity("length", "positive", "distance between the centres of the two conductors"),
    contacts: count("number of contacts (plugs, terminals) in the loop"),
    "fuse holders": count("number of fuse holders in the loop, two contacts each"),
    resistance: quantity("resistance", "positive", "of both conductors with all contacts, instead of length and area"),
    inductance: quantity("inductance", "positive", "of the loop, instead of length and spacing"),
    "thermal time constant": quantity("time", "positive", "of the wire with its insulation"),
    insulation: z.union([
      described(z.string(), { description: "name of an insulation class", part: "insulation" }),
      map({
        continuous: quantity("temperature", "limit of a part", "continuous limit"),
        "short circuit": quantity("temperature", "limit of a part", "limit for the seconds of a short circuit"),
      }),
    ]),
    fuse: fuse,
    contact: contact,
  },
  {
    description:
      "a go-and-return pair: by length with area or gauge, or by resistance and inductance with the area for its heating",
  },
);

export const crowbar = z.union([
  part("crowbar"),
  map({
    part: part("crowbar"),
    label: name("what it is called in the verdict"),
    variant: words(
      ["plain", "gate kept on until reset", "crowbar with disconnect"],
      "what keeps the gate driven, and what else the firing does",
    ),
    "trip voltage": quantity("voltage", "positive", "it fires above this voltage"),
    "sense filter": quantityOrWord("time", ["fast", "RF-filtered"], "time constant of the sense filter"),
    "turn on delay": quantity("time", "not negative", "from the driven gate to conduction"),
    "threshold voltage": quantity("voltage", "not negative", "on-state threshold voltage"),
    "slope resistance": quantity("resistance", "positive", "on-state slope resistance"),
    "stub resistance": quantity("resistance", "not negative", "of the branch outside the junction"),
    inductance: quantity("inductance", "positive", "of the branch"),
    "leak resistance": quantity("resistance", "positive", "while blocking"),
    "holding current": quantity("current", "positive", "below it the SCR stops conducting"),
    "latching current": quantity("current", "not negative", "to be reached once after a firing"),
    "turn off time": quantity("time", "not negative", "how long the current stays below the holding current"),
    "fail temperature": quantity("temperature", "limit of a part", "junction temperature of failing short"),
    "junction stages": list(
      map(
        {
          resistance: quantity("thermal resistance", "positive", "of this stage"),
          "time constant": quantity("time", "positive", "of this stage"),
        },
        { required: ["resistance", "time constant"] },
      ),
      [1, 6],
      { description: "junction to case, thermal stages" },
    ),
    "surge duration": quantity("time", "positive", "of the rated half sine"),
    "junction to case": quantity("thermal resistance", "positive", "total, for stages calibrated to the surge rating"),
    "case to ambient": quantity("thermal resistance", "positive", "case to ambient, with its heat sink"),
    "case heat capacity": quantity("heat capacity", "positive", "of case and heat sink"),
    ratings: map({
      "surge current": quantity("current", "positive", "half-sine surge peak"),
      I2t: quantity("I2t", "positive", "I²t for fusing"),
      "junction temperature": quantity("temperature", "limit of a part", "limit of the junction"),
      "current rise": quantity("current slew", "positive", "limit of di/dt"),
      "surge windows": list(
        map(
          {
            duration: quantity("time", "positive", "window after a firing"),
            rms: quantity("current", "positive", "allowed RMS over it"),
          },
          { required: ["duration", "rms"] },
        ),
        [1, 20],
        { description: "the part's own curve of surge current over time" },
      ),
    }),
  }),
]);

export const clamp = z.union([
  part("clamp"),
  map({
    part: part("clamp"),
    label: name("what it is called in the verdict"),
    "breakdown voltage": quantity("voltage", "positive", "above it the clamp conducts"),
    "slope resistance": quantity("resistance", "positive", "above the breakdown voltage"),
    "thermal resistance": quantity("thermal resistance", "positive", "junction to ambient"),
    "thermal time constant": quantity("time", "positive", "of the junction"),
    "fails short": yesNo("whether it becomes a short at its energy rating"),
    "short resistance": quantity("resistance", "positive", "once it failed short"),
    ratings: map({
      energy: quantity("energy", "positive", "energy it is able to take"),
      "peak current": quantity("current", "positive", "peak pulse current"),
      temperature: quantity("temperature", "limit of a part", "junction limit"),
    }),
  }),
]);

export const seriesSwitch = z.union([
  part("series switch"),
  map({
    part: part("series switch"),
    label: name("what it is called in the verdict"),
    kind: words(["transistor", "relay"], "what opens the line"),
    resistance: quantity("resistance", "positive", "while closed"),
    sense: words(["supply side", "protected side"], "the node that it watches"),
    "sense filter": quantityOrWord("time", ["fast", "RF-filtered"], "time constant of the sense filter"),
    "off voltage": quantity("voltage", "positive", "it opens above this voltage"),
    "opening time": quantity("time", "not negative", "from the decision to the opening"),
    "arc voltage": quantity("voltage", "positive", "transistor: avalanche voltage; relay: arc voltage"),
    "extinction current": quantity("current", "positive", "below it the arc goes out"),
    "extinction time": quantity("time", "not negative", "how long the current stays below"),
    reclose: z.union([
      none,
      map(
        {
          "on voltage": quantity("voltage", "positive", "it closes again below this voltage"),
          "retry time": quantity("time", "not negative", "after this time below the on voltage"),
        },
        { required: ["on voltage", "retry time"] },
      ),
    ]),
    ratings: map({
      current: quantity("current", "positive", "rated current"),
      voltage: quantity("voltage", "positive", "rated voltage"),
    }),
  }),
]);
