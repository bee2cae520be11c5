import type { Method } from "../model/integrator.ts";
import { visible } from "../scenario/text/characters.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { METHODS } from "./methods.ts";
import { readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";

const ACCURACIES = ["default", "tight"] as const;

export const reference: Command = {
  name: "reference",
  usage: "FILE [options]",
  summary: "compare runs with the results of an independent implementation",
  about: [
    "Reads a file of cases with their expected results, runs each case and compares every event time, peak, energy and sample. A table tells how many figures were compared and the worst deviation of each case. A figure that is expected and not computed is a failure.",
  ],
  options: [
    {
      name: "tolerance",
      value: "LEVEL",
      about: "default (0.1 % or 1 µs) or tight (100 times closer)",
      words: ACCURACIES,
    },
    { name: "method", value: "METHOD", about: `integration method: ${METHODS.join(", ")}`, words: METHODS },
    { name: "json", value: null, about: "the whole comparison as JSON" },
  ],
  statuses: [
    [0, "every figure agrees"],
    [1, "at least one falls short"],
    [2, "the file cannot be read"],
  ],
  examples: ["railfault reference cases.json", "railfault reference cases.json --tolerance tight"],
  names: { what: "The reference file", least: 1, most: 1 },
  run: compare,
};

const LARGEST = 64 << 20;

async function compare({ names, values, switches }: Arguments, terminal: Terminal): Promise<number> {
  // Only this command needs it: the others start sooner without.
  const { compareFile, renderReference } = await import("../reference/compare.ts");
  const accuracy = ACCURACIES.find((each) => each === values.get("tolerance")) ?? "default";
  const method: Method | undefined = METHODS.find((each) => each === values.get("method"));
  const text = readInput(names[0], LARGEST);
  const report = readable(() => compareFile(text, { accuracy, ...(method === undefined ? {} : { method }) }));
  if (switches.has("json")) terminal.out(`${JSON.stringify(report, null, 2)}\n`);
  else terminal.out(`${renderReference(report).split("\n").map(visible).join("\n")}\n`);
  return report.exitStatus;
}

function readable<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof Error && error.name === "BadCase")
      throw new UsageError([`This is no reference file: ${error.message}`]);
    throw error;
  }
}
