import { readFileSync } from "node:fs";

/** Of the package, as `package.json` says. */
export function version(): string {
  const manifest: unknown = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
  const found = typeof manifest === "object" && manifest !== null && "version" in manifest ? manifest.version : null;
  return typeof found === "string" ? found : "unknown";
}
