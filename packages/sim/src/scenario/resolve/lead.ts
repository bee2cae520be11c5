import { formatQuantity } from "../../units/index.ts";
import { contactsPerFuseHolder } from "../defaults.ts";
import { findPart, partNames } from "../parts/index.ts";
import { isMap, Section } from "../section.ts";
import type { Sheet } from "../sheet.ts";
import type { Contact, Lead } from "../types.ts";
import {
  CONTACT_RESISTANCE,
  gaugeArea,
  INSULATION_WALL,
  pairInductance,
  solidDiameter,
  wireResistance,
} from "../wire.ts";
import { resolveFuse } from "./fuse.ts";
import { inOrder } from "./order.ts";

/** A lead by its length and copper, or by its resistance and inductance; `ambient` in °C sets the copper's temperature. */
export function resolveLead(sheet: Sheet, owner: Section, ambient: number, endTime: number): Lead {
  const noun = `${owner.label}: lead`;
  const path = [...owner.path, "lead"];
  const value = owner.raw("lead");
  if (value === undefined && !sheet.isSpoilt(path)) {
    sheet.error("missing", path, `\`${owner.label}\` needs a lead.`, {
      received: null,
      allowed: "a map with length and area or gauge, or with resistance, inductance and area",
      hint: "write `lead: {length: 1 m, area: 4 mm2}`",
    });
    sheet.spoil(path);
  }
  const about = { noun, table: "lead", part: null, unknownPart: false, kinds: [], prefix: "" } as const;
  const section = new Section(sheet, path, isMap(value) ? value : {}, about);
  const area = copperArea(section);
  const fuseValue = section.raw("fuse");
  const fuse =
    fuseValue === undefined || fuseValue === "none"
      ? null
      : resolveFuse(sheet, [...path, "fuse"], fuseValue, `${owner.label}: in-line fuse`, false);
  const given = {
    resistance: section.raw("resistance"),
    inductance: section.raw("inductance"),
  };
  const needsLength = given.resistance === undefined || given.inductance === undefined;
  const length = needsLength ? lengthOf(section, given) : Number.NaN;
  const resistance =
    typeof given.resistance === "number"
      ? given.resistance
      : wireAndContacts(section, length, area, ambient, fuse !== null);
  const inductance = typeof given.inductance === "number" ? given.inductance : inductanceOf(section, length, area);
  const contact = contactOf(section, endTime);
  const thermalTimeConstant = section.number("thermalTimeConstant", "time");
  const insulation = insulationOf(section);
  const because = needsLength ? "in this lead" : "where resistance and inductance are given";
  section.finish(because);
  return { inductance, resistance, copperArea: area, thermalTimeConstant, insulation, fuse, contact };
}

function copperArea(section: Section): number {
  const gauge = section.raw("gauge");
  if (typeof gauge !== "number") {
    const { sheet, path } = section;
    const area = section.raw("copperArea");
    if (area === undefined && !["gauge", "area"].some((key) => sheet.isSpoilt([...path, key]))) {
      sheet.error("missing", [...path, "area"], `The copper's cross-section is missing in ${section.label}.`, {
        received: null,
        allowed: "an area or a gauge",
        hint: "write `area: 4 mm2` or `gauge: 12 AWG`",
      });
    }
    return typeof area === "number" ? area : Number.NaN;
  }
  if (section.raw("copperArea") !== undefined) {
    section.sheet.error("contradiction", [...section.path, "gauge"], "Both the area and the gauge are given.", {
      hint: "delete one of the two",
    });
  }
  try {
    return gaugeArea(gauge);
  } catch {
    section.sheet.error("out-of-range", [...section.path, "gauge"], "There is no such wire gauge.", {
      allowed: "a whole number from 0 to 40, or 1/0 to 4/0, such as 12 AWG",
    });
    return Number.NaN;
  }
}

function lengthOf(section: Section, given: { readonly resistance: unknown; readonly inductance: unknown }): number {
  const length = section.raw("length");
  if (typeof length === "number" || section.sheet.isSpoilt([...section.path, "length"]))
    return Number(length ?? Number.NaN);
  const spoilt = ["resistance", "inductance"].some((key) => section.sheet.isSpoilt([...section.path, key]));
  if (section.sheet.isSpoilt(section.path) || spoilt) return Number.NaN;
  const half = given.resistance !== undefined ? "`inductance`" : given.inductance !== undefined ? "`resistance`" : null;
  section.sheet.error(
    "missing",
    [...section.path, "length"],
    `The ${section.label.slice(section.label.lastIndexOf(": ")).replace(/^: /, "")} of ${section.label.replace(/: lead$/, "")} needs a length${half === null ? ", or a resistance and an inductance" : `, or also ${half}`}.`,
    {
      received: null,
      allowed: "a length",
      hint: "write `length: 1 m`",
    },
  );
  return Number.NaN;
}

function wireAndContacts(section: Section, length: number, area: number, ambient: number, hasFuse: boolean): number {
  const contacts = section.number("contacts", "number");
  const rawHolders = section.raw("fuseHolders");
  const holders = typeof rawHolders === "number" ? rawHolders : hasFuse ? 1 : 0;
  const count = contacts + contactsPerFuseHolder.value * holders;
  if (count > 0)
    section.note(
      "contactResistance",
      `${count} × ${formatQuantity(Number(CONTACT_RESISTANCE.value), "resistance")}`,
      CONTACT_RESISTANCE,
    );
  const wire = length > 0 && area > 0 ? wireResistance({ length, area, temperature: ambient }) : Number.NaN;
  return wire + count * Number(CONTACT_RESISTANCE.value);
}

function inductanceOf(section: Section, length: number, area: number): number {
  const raw = section.raw("spacing");
  if (section.sheet.isSpoilt([...section.path, "spacing"]) || !(area > 0 && length > 0)) return Number.NaN;
  const diameter = solidDiameter(area);
  const spacing = typeof raw === "number" ? raw : diameter + 2 * Number(INSULATION_WALL.value);
  if (typeof raw !== "number")
    section.note("spacing", formatQuantity(spacing, "length", { digits: 5 }), INSULATION_WALL);
  if (spacing < diameter) {
    const message = "The spacing is measured between the centres; the conductors would overlap.";
    section.sheet.error("out-of-range", [...section.path, "spacing"], message, {
      allowed: `${formatQuantity(diameter, "length")}, the diameter of one conductor, or more`,
    });
    return Number.NaN;
  }
  return pairInductance({ length, area, spacing });
}

function insulationOf(section: Section): Lead["insulation"] {
  const value = section.raw("insulation");
  const path = [...section.path, "insulation"];
  if (isMap(value)) {
    const child = section.child("insulation", true);
    const continuous = child?.number("continuous", "temperature") ?? Number.NaN;
    return { continuous, shortCircuit: child?.number("shortCircuit", "temperature") ?? Number.NaN };
  }
  const name = section.text("insulation") ?? "PVC";
  const part = findPart("insulation", name);
  if (part === null) {
    section.sheet.unknownName(
      "unknown-part",
      path,
      `There is no insulation \`${name}\`.`,
      name,
      partNames("insulation"),
      "value",
    );
    return { continuous: Number.NaN, shortCircuit: Number.NaN };
  }
  const about = {
    ...section.sources,
    noun: `${section.label}: insulation`,
    table: "insulation",
    part,
    kinds: ["insulation"] as const,
  };
  const inner = new Section(section.sheet, path, {}, about);
  return {
    continuous: inner.number("continuous", "temperature"),
    shortCircuit: inner.number("shortCircuit", "temperature"),
  };
}

function contactOf(lead: Section, endTime: number): Contact | null {
  const value = lead.raw("contact");
  if (!isMap(value)) return null;
  const about = { ...lead.sources, noun: `${lead.label}: contact`, table: "contact" };
  const section = new Section(lead.sheet, [...lead.path, "contact"], value, about);
  const entries = section.list("operations") ?? [];
  if (entries.length === 0 && !section.sheet.isSpoilt([...section.path, "operations"])) {
    section.sheet.error(
      "missing",
      [...section.path, "operations"],
      "A contact needs operations: what happens to it, and when.",
      {
        received: null,
        allowed: "a list of times and actions",
        hint: "write `operations: [{time: 10 ms, action: open}]`",
      },
    );
  }
  const operations = entries.map((entry, index) => {
    const path = [...section.path, "operations", index];
    const item = new Section(section.sheet, path, entry, { ...about, noun: "an operation of the contact" });
    return { time: item.number("time", "time"), action: item.word("action", ["open", "close"] as const) ?? "open" };
  });
  inOrder(
    section.sheet,
    [...section.path, "operations"],
    operations.map(({ time }) => time),
    endTime,
  );
  const contact: Contact = {
    resistance: section.number("resistance", "resistance"),
    arcVoltage: section.number("arcVoltage", "voltage"),
    extinctionCurrent: section.number("extinctionCurrent", "current"),
    initially: section.word("initially", ["closed", "open"] as const) ?? "closed",
    operations,
  };
  warnIdleOperations(section, contact);
  section.finish("on a contact");
  return contact;
}

/** Closing what is closed is no error, but hardly what was meant. */
function warnIdleOperations(section: Section, { initially, operations }: Contact): void {
  let isOpen = initially === "open";
  operations.forEach(({ action }, index) => {
    if ((action === "open") === isOpen) {
      const path = [...section.path, "operations", index, "action"];
      section.sheet.warn(
        "operation-without-effect",
        path,
        `The contact is already ${isOpen ? "open" : "closed"} here.`,
      );
    }
    isOpen = action === "open";
  });
}
