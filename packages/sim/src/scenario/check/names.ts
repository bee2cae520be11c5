import type { Sheet } from "../sheet.ts";
import type { Scenario } from "../types.ts";

/** What the line itself is called in traces and energies; a source of the same name would be taken for it. */
const OWN_NAMES = [
  "supply side",
  "protected side",
  "radio side",
  "main fuse",
  "crowbar",
  "crowbar sense",
  "clamp",
  "series switch",
  "series switch sense",
  "line capacitors",
] as const;

/** What hangs on a source or load is called by its name and one of these. */
const ATTACHED = ["lead", "fuse", "clamp", "own crowbar", "own crowbar sense"] as const;

/** Names as columns of a trace have them: there a space is an underscore. */
const folded = (name: string): string => name.replaceAll(/\s+/g, "_");

/** Every source and load needs a name that nothing else in the results has. */
export function checkNames(sheet: Sheet, { sources, loads }: Scenario): void {
  const all = [
    ...sources.map(({ name }, index) => ({ name, key: "sources", index })),
    ...loads.map(({ name }, index) => ({ name, key: "loads", index })),
  ];
  const taken = new Map<string, string>(OWN_NAMES.map((name) => [folded(name), `the line's own ${name}`]));
  for (const { name } of all) {
    for (const part of ATTACHED) taken.set(folded(`${name} ${part}`), `the ${part} of \`${name}\``);
  }
  const seen = new Map<string, string>();
  for (const { name, key, index } of all) {
    const path = [key, index, "name"];
    const before = seen.get(folded(name));
    const owner = taken.get(folded(name));
    if (before !== undefined) {
      sheet.error("duplicate-name", path, `The name \`${name}\` is already that of ${before}.`, {
        hint: "give each source and load a name of its own",
      });
    } else if (owner !== undefined) {
      sheet.error("taken-name", path, `The name \`${name}\` stands for ${owner} in the results.`, {
        hint: "give it another name, for instance one that says where it stands",
      });
    }
    seen.set(folded(name), `${key}[${index}]`);
  }
}
