import type { PartKind } from "../scenario/parts/types.ts";
import type { Command } from "./command.ts";

/** Written down here so that the help need not load every class. */
const KINDS = {
  supply: true,
  charger: true,
  battery: true,
  panel: true,
  fuse: true,
  crowbar: true,
  clamp: true,
  "series switch": true,
  load: true,
  insulation: true,
} satisfies Record<PartKind, true>;

export const parts: Command = {
  name: "parts",
  usage: "[KIND or NAME] [options]",
  summary: "list the part classes, every value with its source",
  about: [
    "A part class fills in what a scenario file does not say: `main fuse: blade fuse 20 A`. Each value carries its source and a mark that says how well it is known: published, transcribed, computed, common practice, from memory, assumed.",
    `Kinds are ${Object.keys(KINDS).join(", ")}.`,
  ],
  options: [
    { name: "names", value: null, about: "only the names of the classes" },
    { name: "json", value: null, about: "as JSON, values in SI units" },
  ],
  statuses: [
    [0, "listed"],
    [2, "there is no such kind or class"],
  ],
  examples: ["railfault parts --names", "railfault parts fuse", 'railfault parts "SCR 25 A"'],
  names: { what: "A kind", least: 0, most: 1 },
  run: async (given, terminal) => (await import("./list-parts.ts")).listParts(given, terminal),
};
