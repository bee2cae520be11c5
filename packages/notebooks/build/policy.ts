// What a page may load, told to the browser. Styles in the markup stay allowed: the figures set their own.
const common = ["object-src 'none'", "base-uri 'none'", "form-action 'none'"];

/** For the pages of the built site: everything from where the page comes from, no script in the page itself. */
export const sitePolicy = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "worker-src 'self'",
  "connect-src 'self'",
  ...common,
].join("; ");

/** For the development server, which also talks to the page about changes. */
export const developmentPolicy = sitePolicy.replace("connect-src 'self'", "connect-src 'self' ws://127.0.0.1:*");

/** For the guides and the reference, whose search unpacks an index that stands in a script. */
export const referencePolicy = sitePolicy.replace("connect-src 'self'", "connect-src 'self' data:");

/** For a page in one file: exactly its own scripts, by their hashes, and a worker made from them. */
export function singleFilePolicy(hashes: readonly string[]): string {
  return [
    "default-src 'none'",
    `script-src ${hashes.map((hash) => `'${hash}'`).join(" ")}`,
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "worker-src blob:",
    ...common,
  ].join("; ");
}
