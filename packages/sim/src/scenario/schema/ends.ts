import { z } from "zod";
import { name, none, quantity, words, yesNo } from "./leaf.ts";
import { clamp, crowbar, lead } from "./line-parts.ts";

const faultKinds = [
  "none",
  "voltage turned up",
  "lost feedback",
  "shorted pass transistor",
  "shorted controller",
] as const;

const limit = z.union([
  none,
  z.strictObject({
    style: words(
      ["none", "constant current", "foldback", "hiccup", "latch off"],
      "what the supply does at its limit",
    ).optional(),
    current: quantity("current", "positive", "current limit").optional(),
    "short circuit current": quantity("current", "positive", "foldback: limit into a short").optional(),
    "detection time": quantity(
      "time",
      "positive",
      "hiccup and latch off: overload this long stops the supply",
    ).optional(),
    "off time": quantity("time", "positive", "hiccup: pause before the restart").optional(),
    "ramp time": quantity("time", "not negative", "hiccup: rise of the voltage at the restart").optional(),
  }),
]);

const reservoir = z.union([
  none,
  z.strictObject({
    "raw voltage": quantity("voltage", "positive", "unregulated voltage without load; the peak with ripple").optional(),
    "raw resistance": quantity("resistance", "positive", "of transformer and rectifier").optional(),
    capacitance: quantity("capacitance", "positive", "of the reservoir").optional(),
    "drop out resistance": quantity("resistance", "positive", "least resistance of the working regulator").optional(),
    ripple: yesNo("rectified mains instead of a smooth raw voltage").optional(),
    "mains frequency": quantity("frequency", "positive", "of the mains").optional(),
  }),
]);

const ownOvp = z.union([
  none,
  z.strictObject({
    voltage: quantity("voltage", "positive", "terminal voltage of its shutdown").optional(),
    delay: quantity("time", "not negative", "how long the voltage must be exceeded").optional(),
    "works on lost feedback": yesNo("whether it still works when the feedback is lost").optional(),
  }),
]);

const fault = z.union([
  z.enum(faultKinds).meta({ description: "a fault without figures of its own, or with those of the part class" }),
  z
    .strictObject({
      kind: words(faultKinds, "what breaks").optional(),
      "end voltage": quantity("voltage", "positive", "voltage turned up: where it ends").optional(),
      "ceiling voltage": quantity(
        "voltage",
        "positive",
        "lost feedback: the most the supply is able to give",
      ).optional(),
      slew: quantity("voltage slew", "positive", "how fast the set voltage moves there").optional(),
      "pass resistance": quantity("resistance", "positive", "of the shorted pass transistor").optional(),
    })
    .meta({ required: ["kind"] }),
]);

export const source = z.strictObject({
  name: name("what it is called in the verdict; unique").optional(),
  kind: words(["supply", "charger", "battery", "panel"], "what it is; a part class says it too").optional(),
  part: z
    .string()
    .meta({ description: "name of a part class; single values override it", part: "supply, charger, battery, panel" })
    .optional(),
  lead: lead.optional(),
  diode: z
    .union([
      none,
      z.strictObject({
        "forward voltage": quantity("voltage", "not negative", "threshold of the diode").optional(),
        resistance: quantity("resistance", "not negative", "slope of the diode").optional(),
      }),
    ])
    .optional(),
  fault: fault.optional(),
  "set voltage": quantity("voltage", "positive", "supply: output voltage while healthy").optional(),
  "source resistance": quantity("resistance", "positive", "supply: resistance of the regulated output").optional(),
  "response time": quantity("time", "positive", "supply: lag of the regulator").optional(),
  "output capacitance": quantity("capacitance", "positive", "supply and panel: capacitor at the terminals").optional(),
  esr: quantity("resistance", "positive", "supply and panel: series resistance of that capacitor").optional(),
  "bleeder resistance": quantity("resistance", "positive", "supply: across the terminals").optional(),
  limit: limit.optional(),
  reservoir: reservoir.optional(),
  "own OVP": ownOvp.optional(),
  "own crowbar": crowbar.optional(),
  "switch on": z
    .strictObject({
      time: quantity("time", "not negative", "start dead: when it is switched on").optional(),
      "ramp time": quantity("time", "not negative", "start dead: rise of its voltage").optional(),
    })
    .optional(),
  emf: quantity("voltage", "positive", "battery: EMF at the start").optional(),
  "internal resistance": quantity("resistance", "positive", "battery").optional(),
  capacity: quantity("charge", "positive", "battery").optional(),
  "initial charge": quantity("ratio", "share", "battery: state of charge at the start").optional(),
  "emf per charge": quantity("voltage", "positive", "battery: change of EMF per full charge").optional(),
  "emf table": z
    .union([
      none,
      z
        .array(
          z
            .strictObject({
              charge: quantity("ratio", "not negative", "state of charge, beyond 100 % as well").optional(),
              emf: quantity("voltage", "positive", "EMF at that charge").optional(),
            })
            .meta({ required: ["charge", "emf"] }),
        )
        .min(2)
        .max(200),
    ])
    .optional(),
  "short circuit current": quantity("current", "positive", "panel").optional(),
  "open circuit voltage": quantity("voltage", "positive", "panel").optional(),
  "knee voltage": quantity("voltage", "positive", "panel: voltage of the exponential").optional(),
});

const curve = z
  .array(
    z
      .strictObject({
        voltage: quantity("voltage", "positive", "level").optional(),
        time: quantity("time", "positive", "longest time allowed above it").optional(),
      })
      .meta({ required: ["voltage", "time"] }),
  )
  .max(50);

const withstandNames = ["strict", "parts rated 16 V", "vehicle"] as const;
const withstandName = z.enum(withstandNames).meta({ description: "a withstand curve by name" });

export const load = z.strictObject({
  name: name("what it is called in the verdict; unique").optional(),
  kind: words(
    ["resistive", "constant current", "constant power", "lamp"],
    "how it draws current; a part class says it too",
  ).optional(),
  part: z.string().meta({ description: "name of a part class; single values override it", part: "load" }).optional(),
  lead: lead.optional(),
  resistance: quantity("resistance", "positive", "resistive").optional(),
  current: quantity("current", "positive", "constant current").optional(),
  power: quantity("power", "positive", "constant power").optional(),
  "knee voltage": quantity("voltage", "positive", "constant current and power: a resistor below it").optional(),
  "nominal power": quantity("power", "positive", "lamp").optional(),
  "nominal voltage": quantity("voltage", "positive", "lamp: where it takes its nominal power").optional(),
  "nominal temperature": quantity(
    "absolute temperature",
    "positive",
    "lamp: of the filament at its nominal voltage",
  ).optional(),
  "cold temperature": quantity("absolute temperature", "positive", "lamp: of the cold filament").optional(),
  exponent: quantity("number", "positive", "lamp: of resistance over temperature").optional(),
  "heat capacity": quantity("heat capacity", "positive", "lamp: of the filament").optional(),
  "input capacitance": quantity(
    "capacitance",
    "not negative",
    "at the terminals; may be 0 F for resistive loads and lamps",
  ).optional(),
  esr: quantity("resistance", "positive", "series resistance of the input capacitor").optional(),
  limits: z
    .union([
      withstandName,
      z.strictObject({
        minimum: quantity("voltage", "not negative", "lowest voltage at which it works").optional(),
        maximum: quantity("voltage", "positive", "highest voltage of its window").optional(),
        withstand: z.union([withstandName, curve]).optional(),
      }),
    ])
    .optional(),
  schedule: z
    .array(
      z
        .strictObject({
          time: quantity("time", "not negative", "when, from the start of the run").optional(),
          current: quantity("current", "positive", "new current").optional(),
          power: quantity("power", "positive", "new power").optional(),
          resistance: quantity("resistance", "positive", "new resistance").optional(),
        })
        .meta({ required: ["time"] }),
    )
    .max(1000)
    .meta({ description: "changes of the load, in order of time" })
    .optional(),
  clamp: clamp.optional(),
  "drop out": z
    .union([
      none,
      z.strictObject({
        voltage: quantity("voltage", "positive", "below it the load switches itself off").optional(),
        delay: quantity("time", "not negative", "how long below").optional(),
        "sleep current": quantity("current", "not negative", "what it draws while off").optional(),
        "return voltage": quantity("voltage", "positive", "above it the load comes back").optional(),
        "return delay": quantity("time", "not negative", "how long above").optional(),
        "comes back": words(["by itself", "by hand"], "whether somebody has to go there").optional(),
      }),
    ])
    .optional(),
});
