// Nothing that a page loads comes from elsewhere: the build ends where an output file names another origin.
import type { Plugin } from "vite";

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

/** Throws where one of the files names a foreign address; says which. */
export function refuseForeign(files: readonly { readonly name: string; readonly text: string }[]): void {
  const found = files.flatMap(({ name, text }) => foreignOrigins(text).map((address) => `  ${name}: ${address}`));
  if (found.length > 0)
    throw new Error(`these output files name another origin; nothing may come from elsewhere:\n${found.join("\n")}`);
}

/** The same as a plugin at the end of a build. */
export function localOnly(): Plugin {
  return {
    name: "railfault:local-only",
    apply: "build",
    enforce: "post",
    generateBundle: {
      order: "post",
      handler(_, bundle) {
        const files = Object.values(bundle).map((file) => ({
          name: file.fileName,
          text: file.type === "chunk" ? file.code : textOf(file.source),
        }));
        refuseForeign(files);
      },
    },
  };
}

function textOf(source: string | Uint8Array): string {
  return typeof source === "string" ? source : new TextDecoder().decode(source);
}
