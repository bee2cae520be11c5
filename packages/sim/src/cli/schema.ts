import type { Command } from "./command.ts";

export const schema: Command = {
  name: "schema",
  usage: "",
  summary: "print the JSON Schema of scenario files, for editors",
  about: [
    "An editor that knows the schema completes keys and words and shows what each means. Units and ranges are checked only by the program itself.",
  ],
  options: [],
  statuses: [[0, "printed"]],
  examples: ["railfault schema > railfault.schema.json"],
  names: { what: "", least: 0, most: 0 },
  run: async (_, terminal) => {
    const { scenarioJsonSchema } = await import("../scenario/index.ts");
    terminal.out(`${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`);
    return 0;
  },
};
