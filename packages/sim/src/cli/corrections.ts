import type { WrittenCorrections } from "../capture/corrections.ts";
import type { OptionSpec } from "./command.ts";

/** Corrections of how a capture was understood; each as a person writes it. */
export const CORRECTIONS: readonly OptionSpec[] = [
  {
    name: "time",
    value: "COLUMN",
    about:
      "which column holds the time, by number or name, with its unit or how its dates begin if need be: '1, ms', '1, day first'; none: no column does",
  },
  { name: "interval", value: "TIME", about: "between two samples, where no column holds the time" },
  {
    name: "channel",
    value: "CHANNELS",
    about:
      "columns that are channels, and all that is known of them: '2: radio, V, 10×, inverted; 3: supply current, shunt 1 mohm, offset 2 mV, deskew 12 ns'; a clamp as '10 mV/A' or '100 A/V'. Columns not named are left out",
  },
  {
    name: "delimiter",
    value: "MARK",
    about: "between cells: comma, semicolon, tab",
    words: ["comma", "semicolon", "tab"],
  },
  { name: "decimal", value: "MARK", about: "in numbers: point, comma", words: ["point", "comma"] },
];

/** What was written of these options. */
export function writtenCorrections(
  values: ReadonlyMap<string, string>,
  options: readonly OptionSpec[] = CORRECTIONS,
): WrittenCorrections {
  return Object.fromEntries(options.flatMap(({ name }) => (values.has(name) ? [[name, values.get(name)]] : [])));
}
