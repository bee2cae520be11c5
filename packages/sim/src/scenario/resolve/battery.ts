import { formatQuantity } from "../../units/index.ts";
import { computed } from "../defaults.ts";
import type { Cited } from "../parts/types.ts";
import { Section } from "../section.ts";
import type { Battery } from "../types.ts";
import type { LineFacts } from "./load.ts";

type EmfTable = NonNullable<Battery["emfTable"]>;

/** More than this between a written EMF and the table at the written charge is a contradiction, V. */
const AGREES = 0.05;

/** The values of a battery; with an EMF table, its EMF and its charge at the start follow from each other. */
export function batteryValues(section: Section, line: LineFacts): Omit<Battery, "name" | "lead" | "diode"> {
  const table = emfTable(section);
  const emfIsWritten = section.written.emf !== undefined;
  const chargeIsWritten = section.written["initial charge"] !== undefined;
  const writtenCharge = section.written["initial charge"];
  const emfRule =
    table !== null && typeof writtenCharge === "number"
      ? byTable(interpolate(table, writtenCharge, "charge", "emf"))
      : computed.batteryEmf(line.setVoltage);
  const emf = section.number("emf", "voltage", emfRule);
  const chargeRule = table === null ? null : byTable(interpolate(table, emf, "emf", "charge"));
  const initialCharge = section.number("initialCharge", "ratio", chargeRule);
  if (table !== null && emfIsWritten && chargeIsWritten) {
    const expected = interpolate(table, initialCharge, "charge", "emf");
    if (Math.abs(expected - emf) > AGREES) {
      section.sheet.error(
        "contradiction",
        [...section.path, "emf"],
        `The EMF table gives ${expected.toFixed(2)} V at the initial charge.`,
        {
          hint: "delete `emf` or `initial charge`: each follows from the other",
        },
      );
    }
  }
  return {
    kind: "battery",
    emf,
    internalResistance: section.number("internalResistance", "resistance"),
    capacityAh: section.number("capacityAh", "charge"),
    initialCharge,
    emfPerCharge: section.number("emfPerCharge", "voltage", table === null ? null : slopeOf(table)),
    emfTable: table,
  };
}

function byTable(value: number): Cited<number> {
  return { value, source: "follows from the EMF table", mark: "computed" };
}

function slopeOf(table: EmfTable): Cited<number> {
  const first = table[0];
  const last = table[table.length - 1];
  const value = (last.emf - first.emf) / (last.charge - first.charge);
  return { value, source: "mean slope of the EMF table", mark: "computed" };
}

/** Straight lines between the points, the outer ones continued. */
function interpolate(table: EmfTable, x: number, from: "charge" | "emf", to: "charge" | "emf"): number {
  let index = 1;
  while (index < table.length - 1 && table[index][from] < x) index += 1;
  const a = table[index - 1];
  const b = table[index];
  return a[to] + ((x - a[from]) / (b[from] - a[from])) * (b[to] - a[to]);
}

function emfTable(section: Section): EmfTable | null {
  const raw = section.raw("emfTable");
  if (raw === "none") return null;
  const entries = section.list("emfTable");
  if (entries === null) return null;
  if (!Array.isArray(raw)) return entries as unknown as EmfTable;
  const path = [...section.path, "emf table"];
  const table = entries.map((entry, index) => {
    const about = { ...section.sources, noun: "an entry of the EMF table", table: "none", part: null, kinds: [] };
    const item = new Section(section.sheet, [...path, index], entry, about);
    return { charge: item.number("charge", "ratio"), emf: item.number("emf", "voltage") };
  });
  table.forEach((point, index) => {
    if (index === 0) return;
    for (const field of ["charge", "emf"] as const) {
      if (point[field] <= table[index - 1][field]) {
        section.sheet.error(
          "not-rising",
          [...path, index, field],
          "Charge and EMF of the table must both rise from entry to entry.",
          {
            allowed: `more than ${formatQuantity(table[index - 1][field], field === "charge" ? "ratio" : "voltage", { digits: 4 })}`,
          },
        );
      }
    }
  });
  return table;
}
