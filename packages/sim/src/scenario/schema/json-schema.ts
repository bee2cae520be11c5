import * as z from "zod/mini";
import { scenarioSchema } from "./scenario.ts";

interface Meta {
  dimension?: string;
  range?: string;
  words?: readonly string[];
  part?: string;
  flag?: boolean;
  required?: readonly string[];
}

/**
 * JSON Schema (draft 2020-12) of scenario files, for editors: keys, words and descriptions. Units and ranges are checked
 * only by the program itself.
 *
 * @example writeFileSync("railfault.schema.json", JSON.stringify(scenarioJsonSchema(), null, 2))
 */
export function scenarioJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(scenarioSchema, {
    io: "input",
    override: ({ jsonSchema }) => {
      const meta = jsonSchema as Meta & Record<string, unknown>;
      // An editor reads a bare 4 as a number, and yes as true where it follows an older YAML.
      if (meta.dimension === "number" || meta.range === "count" || meta.dimension === "ratio")
        meta.type = ["string", "number"];
      if (meta.flag === true) {
        meta.enum = ["yes", "no", true, false];
        delete meta.type;
      }
      for (const key of ["dimension", "range", "words", "part", "flag"] as const) delete meta[key];
    },
  });
  return schema as Record<string, unknown>;
}
