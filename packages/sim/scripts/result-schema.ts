/**
 * Writes src/report/result.schema.json from the types of a result, so that the two cannot drift apart:
 * `npx tsx packages/sim/scripts/result-schema.ts`.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createGenerator, type Schema } from "ts-json-schema-generator";

const home = join(import.meta.dirname, "..");
export const resultSchemaFile = join(home, "src/report/result.schema.json");

/** JSON Schema (draft 7) of `railfault run FILE --json`. */
export function resultSchema(): Record<string, unknown> {
  const generator = createGenerator({
    path: join(home, "src/report/result-document.ts"),
    tsconfig: join(home, "packed/tsconfig.json"),
    type: "ResultDocument",
    expose: "export",
    // A reader passes over keys that it does not know, which later versions may bring.
    additionalProperties: true,
    skipTypeCheck: true,
    sortProps: false,
  });
  const { $schema, ...rest } = withNulls(generator.createSchema("ResultDocument")) as Schema;
  const title = "Railfault result";
  return { $schema, title, description: "What `railfault run FILE --json` prints, form `railfault-result 1`", ...rest };
}

/** JSON knows no infinity: every number may be null. */
function withNulls(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(withNulls);
  if (typeof schema !== "object" || schema === null) return schema;
  const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, withNulls(value)]));
  const types = [inner.type].flat();
  if (!types.includes("number") || types.includes("null") || inner.const !== undefined || inner.enum !== undefined)
    return inner;
  return { ...inner, type: [...types, "null"] };
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  writeFileSync(resultSchemaFile, `${JSON.stringify(resultSchema(), null, 2)}\n`);
