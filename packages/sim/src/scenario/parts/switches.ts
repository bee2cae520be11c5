import { assumed, commonPractice, fromMemory, partClass } from "./cite.ts";
import type { PartClass } from "./types.ts";

/** Series switches. Off voltage and reclosing are the user's. */
export const SWITCHES: readonly PartClass[] = [
  partClass("series switch", "series transistor 30 A", "field-effect transistor with its driver, 40 V", {
    kind: commonPractice("transistor", "its name"),
    resistance: assumed(5e-3, "one or two low-voltage power transistors, warm"),
    openingTime: assumed(10e-6, "gate discharged by a small driver"),
    arcVoltage: commonPractice(40, "avalanche voltage of a 40 V part"),
    "ratings.current": commonPractice(30, "its name"),
    "ratings.voltage": commonPractice(40, "avalanche voltage of a 40 V part"),
  }),
  partClass("series switch", "relay 30 A", "vehicle relay, 12 V coil", {
    kind: commonPractice("relay", "its name"),
    resistance: commonPractice(2e-3, "contact and its blades"),
    openingTime: fromMemory(5e-3, "release of a small vehicle relay; longer with a diode across its coil"),
    arcVoltage: commonPractice(15, "arc of a short contact gap at tens of amperes"),
    "ratings.current": commonPractice(30, "its name"),
    "ratings.voltage": fromMemory(16, "vehicle relays break their current up to about 14 to 16 V DC"),
  }),
];
