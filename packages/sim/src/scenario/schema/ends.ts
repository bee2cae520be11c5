import * as z from "zod/mini";
import { described, list, map } from "./build.ts";
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
  map({
    style: words(["none", "constant current", "foldback", "hiccup", "latch off"], "what the supply does at its limit"),
    current: quantity("current", "positive", "current limit"),
    "short circuit current": quantity("current", "positive", "foldback: limit into a short"),
    "detection time": quantity("time", "positive", "hiccup and latch off: overload this long stops the supply"),
    "off time": quantity("time", "positive", "hiccup: pause before the restart"),
    "ramp time": quantity("time", "not negative", "hiccup: rise of the voltage at the restart"),
  }),
]);

const reservoir = z.union([
  none,
  map({
    "raw voltage": quantity("voltage", "positive", "unregulated voltage without load; the peak with ripple"),
    "raw resistance": quantity("resistance", "positive", "of transformer and rectifier"),
    capacitance: quantity("capacitance", "positive", "of the reservoir"),
    "drop out resistance": quantity("resistance", "positive", "least resistance of the working regulator"),
    ripple: yesNo("rectified mains instead of a smooth raw voltage"),
    "mains frequency": quantity("frequency", "positive", "of the mains"),
  }),
]);

const ownOvp = z.union([
  none,
  map({
    voltage: quantity("voltage", "positive", "terminal voltage of its shutdown"),
    delay: quantity("time", "not negative", "how long the voltage must be exceeded"),
    "works on lost feedback": yesNo("whether it still works when the feedback is lost"),
  }),
]);

const fault = z.union([
  described(z.enum(faultKinds), { description: "a fault without figures of its own, or with those of the part class" }),
  map(
    {
      kind: words(faultKinds, "what breaks"),
      "end voltage": quantity("voltage", "positive", "voltage turned up: where it ends"),
      "ceiling voltage": quantity("voltage", "positive", "lost feedback: the most the supply is able to give"),
      slew: quantity("voltage slew", "positive", "how fast the set voltage moves there"),
      "pass resistance": quantity("resistance", "positive", "of the shorted pass transistor"),
    },
    { required: ["kind"] },
  ),
]);

export const source = map({
  name: name("what it is called in the verdict; unique"),
  kind: words(["supply", "charger", "battery", "panel"], "what it is; a part class says it too"),
  part: described(z.string(), {
    description: "name of a part class; single values override it",
    part: "supply, charger, battery, panel",
  }),
  lead: lead,
  diode: z.union([
    none,
    map({
      "forward voltage": quantity("voltage", "not negative", "threshold of the diode"),
      resistance: quantity("resistance", "not negative", "slope of the diode"),
    }),
  ]),
  fault: fault,
  "set voltage": quantity("voltage", "positive", "supply: output voltage while healthy"),
  "source resistance": quantity("resistance", "positive", "supply: resistance of the regulated output"),
  "response time": quantity("time", "positive", "supply: lag of the regulator"),
  "output capacitance": quantity("capacitance", "positive", "supply and panel: capacitor at the terminals"),
  esr: quantity("resistance", "positive", "supply and panel: series resistance of that capacitor"),
  "bleeder resistance": quantity("resistance", "positive", "supply: across the terminals"),
  limit: limit,
  reservoir: reservoir,
  "own OVP": ownOvp,
  "own crowbar": crowbar,
  "switch on": map({
    time: quantity("time", "not negative", "start dead: when it is switched on"),
    "ramp time": quantity("time", "not negative", "start dead: rise of its voltage"),
  }),
  emf: quantity("voltage", "positive", "battery: EMF at the start"),
  "internal resistance": quantity("resistance", "positive", "battery"),
  capacity: quantity("charge", "positive", "battery"),
  "initial charge": quantity("ratio", "share", "battery: state of charge at the start"),
  "emf per charge": quantity("voltage", "positive", "battery: change of EMF per full charge"),
  "emf table": z.union([
    none,
    list(
      map(
        {
          charge: quantity("ratio", "not negative", "state of charge, beyond 100 % as well"),
          emf: quantity("voltage", "positive", "EMF at that charge"),
        },
        { required: ["charge", "emf"] },
      ),
      [2, 200],
    ),
  ]),
  "short circuit current": quantity("current", "positive", "panel"),
  "open circuit voltage": quantity("voltage", "positive", "panel"),
  "knee voltage": quantity("voltage", "positive", "panel: voltage of the exponential"),
});

const curve = list(
  map(
    {
      voltage: quantity("voltage", "positive", "level"),
      time: quantity("time", "positive", "longest time allowed above it"),
    },
    { required: ["voltage", "time"] },
  ),
  [0, 50],
);

const withstandNames = ["strict", "parts rated 16 V", "vehicle"] as const;
const withstandName = described(z.enum(withstandNames), { description: "a withstand curve by name" });

export const load = map({
  name: name("what it is called in the verdict; unique"),
  kind: words(
    ["resistive", "constant current", "constant power", "lamp"],
    "how it draws current; a part class says it too",
  ),
  part: described(z.string(), { description: "name of a part class; single values override it", part: "load" }),
  lead: lead,
  resistance: quantity("resistance", "positive", "resistive"),
  current: quantity("current", "positive", "constant current"),
  power: quantity("power", "positive", "constant power"),
  "knee voltage": quantity("voltage", "positive", "constant current and power: a resistor below it"),
  "nominal power": quantity("power", "positive", "lamp"),
  "nominal voltage": quantity("voltage", "positive", "lamp: where it takes its nominal power"),
  "nominal temperature": quantity("absolute temperature", "filament", "lamp: of the filament at its nominal voltage"),
  "cold temperature": quantity("absolute temperature", "filament", "lamp: of the cold filament"),
  exponent: quantity("number", "positive", "lamp: of resistance over temperature"),
  "heat capacity": quantity("heat capacity", "positive", "lamp: of the filament"),
  "input capacitance": quantity(
    "capacitance",
    "not negative",
    "at the terminals; may be 0 F for resistive loads and lamps",
  ),
  esr: quantity("resistance", "positive", "series resistance of the input capacitor"),
  limits: z.union([
    withstandName,
    map({
      minimum: quantity("voltage", "not negative", "lowest voltage at which it works"),
      maximum: quantity("voltage", "positive", "highest voltage of its window"),
      withstand: z.union([withstandName, curve]),
    }),
  ]),
  schedule: list(
    map(
      {
        time: quantity("time", "not negative", "when, from the start of the run"),
        current: quantity("current", "positive", "new current"),
        power: quantity("power", "positive", "new power"),
        resistance: quantity("resistance", "positive", "new resistance"),
      },
      { required: ["time"] },
    ),
    [0, 1000],
    { description: "changes of the load, in order of time" },
  ),
  clamp: clamp,
  "drop out": z.union([
    none,
    map({
      voltage: quantity("voltage", "positive", "below it the load switches itself off"),
      delay: quantity("time", "not negative", "how long below"),
      "sleep current": quantity("current", "not negative", "what it draws while off"),
      "return voltage": quantity("voltage", "positive", "above it the load comes back"),
      "return delay": quantity("time", "not negative", "how long above"),
      "comes back": words(["by itself", "by hand"], "whether somebody has to go there"),
    }),
  ]),
});
