const LONGEST = 60;
/** Names that some systems keep for devices. */
const DEVICES = /^(?:con|prn|aux|nul|com\d|lpt\d)$/i;

/**
 * A file's name from a title: ASCII letters, digits and dashes, never empty, harmless on every system.
 *
 * @example safeFileName("Größe: Hütte ./..") // "Groesse-Huette"
 */
export function safeFileName(title: string): string {
  const spelled = title
    .slice(0, 4 * LONGEST)
    .replace(/[äöüÄÖÜ]/g, "$&e")
    .replaceAll("ß", "ss")
    .replaceAll("æ", "ae")
    .replaceAll("ø", "oe")
    .replace(/[µμ]/g, "u")
    .normalize("NFKD")
    .replace(/\p{M}/gu, "");
  const dashed = spelled
    .replace(/[^A-Za-z0-9]+/g, "-")
    .slice(0, LONGEST)
    .replace(/^-|-$/g, "");
  if (dashed === "") return "line";
  return DEVICES.test(dashed) ? `line-${dashed}` : dashed;
}

/**
 * The names with numbers behind those that would fall together, also where capitals make no difference.
 *
 * @example uniqueNames(["hut", "Hut"]) // ["hut", "Hut-2"]
 */
export function uniqueNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    let unique = name;
    for (let number = 2; taken.has(unique.toLowerCase()); number += 1) unique = `${name}-${number}`;
    taken.add(unique.toLowerCase());
    return unique;
  });
}

/**
 * What the file of a line is called where places in it are told. A name with an ending of its own is the file's own name.
 *
 * @example fileOf("Hut, roof") // "Hut, roof.yaml"
 */
export function fileOf(name: string): string {
  return /\.[a-z]\w{0,4}$/i.test(name) ? name : `${name}.yaml`;
}
