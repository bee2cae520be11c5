// Nothing that a page loads comes from elsewhere: the build ends where an output file names another origin.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { filesOf } from "./sizes.ts";

/**
 * Names that look like addresses and are none: namespaces of markup and the identifier of a schema language. Nothing is ever loaded
 * from them. Whole names, so that nothing else below the same host passes.
 */
export const names: readonly string[] = [
  "http://www.w3.org/1998/Math/MathML",
  "http://www.w3.org/1999/xhtml",
  "http://www.w3.org/1999/xlink",
  "http://www.w3.org/2000/svg",
  "http://www.w3.org/2000/xmlns/",
  "http://www.w3.org/XML/1998/namespace",
  "http://json-schema.org/draft-04/schema#",
  "http://json-schema.org/draft-07/schema#",
  "https://json-schema.org/draft/2020-12/schema",
];

/** An address made of a number in brackets that the program fills in: how a library checks that it is one. It names no host. */
const withoutHost = /^http:\/\/\[\$\{\w+\}\]$/;

const withScheme = /\b(?:https?|wss?|ftp):\/\/[^\s"'`<>()\\,;]*/gi;
// Without a scheme, in places where it would be an address: in a string, an attribute or url(…).
const withoutScheme = /["'`(=]\s*(\/\/[a-z0-9-]+(?:\.[a-z0-9-]+)+[^\s"'`<>()\\]*)/gi;

/** Every foreign address that a text names, once each. */
export function foreignOrigins(text: string): string[] {
  const found = [...text.matchAll(withScheme)].map(([address]) => address);
  const bare = [...text.matchAll(withoutScheme)].map((match) => match[1]!);
  return [...new Set([...found, ...bare])].filter((address) => !names.includes(address) && !withoutHost.test(address));
}

/** Throws where a file of a built site names a foreign address; says which file and which address. */
export function refuseForeign(folder: string): void {
  const found = filesOf(folder).flatMap((name) =>
    foreignOrigins(readFileSync(join(folder, name), "utf8")).map((address) => `  ${name}: ${address}`),
  );
  if (found.length > 0)
    throw new Error(`these output files name another origin; nothing may come from elsewhere:\n${found.join("\n")}`);
}
