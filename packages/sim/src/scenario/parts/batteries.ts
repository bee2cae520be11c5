import { assumed, computed, fromMemory, partClass, published, transcribed } from "./cite.ts";
import type { Cited, PartClass } from "./types.ts";

/**
 * Batteries. The EMF at the start is not theirs to say: it follows the supply that floats them. Classes named
 * `overcharge` carry the curve that rises much faster once the battery is full.
 */
const AGM_PER_CHARGE = fromMemory(1.2, "about 11.7 V empty to 12.9 V full, resting");
const AGM_CURVE = assumed(
  [
    { charge: 0, emf: 11.7 },
    { charge: 0.5, emf: 12.3 },
    { charge: 1, emf: 12.9 },
    { charge: 1.02, emf: 13.8 },
    { charge: 1.05, emf: 14.7 },
    { charge: 1.15, emf: 16.2 },
  ],
  "12.8 to 13.0 V resting full and 14.4 to 15.0 V charging are published; the shape between and beyond is ours",
);

const LFP_PER_CHARGE = fromMemory(0.6, "about 12.8 to 13.4 V between nearly empty and full, resting");
const LFP_CURVE = assumed(
  [
    { charge: 0, emf: 10.5 },
    { charge: 0.1, emf: 12.8 },
    { charge: 0.9, emf: 13.3 },
    { charge: 1, emf: 13.6 },
    { charge: 1.01, emf: 14.4 },
    { charge: 1.05, emf: 16 },
  ],
  "14.2 to 14.6 V at the end of charging is transcribed; the shape is ours; its own protection is not modelled",
);

function battery(
  name: string,
  about: string,
  capacityAh: number,
  internalResistance: Cited,
  perCharge: Cited,
  curve: Cited,
): PartClass[] {
  const values = { capacityAh: published(capacityAh, "its name"), internalResistance, emfPerCharge: perCharge };
  return [
    partClass("battery", name, about, values),
    partClass("battery", `${name}, overcharge`, `${about}, with its steep rise beyond full`, {
      ...values,
      emfTable: curve,
    }),
  ];
}

const LFP_SHORT_CIRCUIT = 3700;
const LFP_EMF = 13.2;

export const BATTERIES: readonly PartClass[] = [
  ...battery(
    "AGM battery 100 Ah",
    "12 V lead-acid battery, absorbed glass mat",
    100,
    published(4.9e-3, "sheet of a 12 V 100 Ah AGM battery"),
    AGM_PER_CHARGE,
    AGM_CURVE,
  ),
  ...battery(
    "AGM battery 7 Ah",
    "12 V lead-acid battery, absorbed glass mat, small",
    7,
    fromMemory(25e-3, "usual for 12 V 7 Ah, charged"),
    AGM_PER_CHARGE,
    AGM_CURVE,
  ),
  ...battery(
    "LiFePO4 battery 100 Ah",
    "four-cell lithium iron phosphate battery, its own protection not modelled",
    100,
    transcribed(LFP_EMF / LFP_SHORT_CIRCUIT, "short circuit of about 3.7 kA per 100 Ah, from 13.2 V"),
    LFP_PER_CHARGE,
    LFP_CURVE,
  ),
  ...battery(
    "LiFePO4 battery 20 Ah",
    "four-cell lithium iron phosphate battery, its own protection not modelled",
    20,
    computed((LFP_EMF / LFP_SHORT_CIRCUIT) * 5, "short circuit of about 3.7 kA per 100 Ah, by capacity"),
    LFP_PER_CHARGE,
    LFP_CURVE,
  ),
];
