import { readFileSync } from "node:fs";
import { type Command, UsageError } from "./command.ts";

/** Made from the types of a result by scripts/result-schema.ts. */
const resultSchema = new URL("../report/result.schema.json", import.meta.url);

export const schema: Command = {
  name: "schema",
  usage: "[scenario or result]",
  summary: "print the JSON Schema of scenario files, for editors, or of results",
  about: [
    "An editor that knows the schema of scenario files completes keys and words and shows what each means. Units and ranges are checked only by the program itself.",
    "The schema of results is that of `run --json`, for whoever reads them with another program.",
  ],
  options: [],
  statuses: [
    [0, "printed"],
    [2, "there is no such schema"],
  ],
  examples: ["railfault schema > railfault.schema.json", "railfault schema result > railfault-result.schema.json"],
  names: { what: "A schema", least: 0, most: 1 },
  run: async ({ names }, terminal) => {
    const [which = "scenario"] = names;
    if (which === "result") {
      terminal.out(readFileSync(resultSchema, "utf8"));
      return 0;
    }
    if (which !== "scenario")
      throw new UsageError([`There is no schema "${which.slice(0, 60)}": allowed are scenario and result`]);
    const { scenarioJsonSchema } = await import("../scenario/index.ts");
    terminal.out(`${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`);
    return 0;
  },
};
