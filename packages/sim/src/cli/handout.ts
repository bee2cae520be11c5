import { type Arguments, type Command, UsageError } from "./command.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { sheetTarget } from "./sheet-options.ts";
import type { Terminal } from "./terminal.ts";

export const handout: Command = {
  name: "handout",
  usage: "FILE --html FILE",
  summary: "one page about a fault, to be printed: question, line, picture, limits, cautions",
  about: [
    "Runs the scenario and writes a page that prints on one side of A4: the question, the line drawn from the file, the picture of the fault, the nearest limits, what to do before the next use, cautions, and where the values come from.",
  ],
  options: [
    { name: "html", value: "FILE", about: "where to write the page; a browser prints it or makes a PDF of it" },
  ],
  statuses: [
    [0, "written, whatever the verdict says"],
    [2, "bad input, or a file that cannot be written"],
    [3, "no verdict: the solver failed, or the energy does not close"],
  ],
  examples: ["railfault handout hut.yaml --html handout.html"],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: handoutCommand,
};

async function handoutCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const [file = ""] = given.names;
  const target = sheetTarget(given);
  if (target === null) throw new UsageError(["A handout is a page: --html FILE says where to write it."]);
  const text = readInput(file, LARGEST_SCENARIO);
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { handoutAndTell } = await import("./sheets-and-tell.ts");
  return handoutAndTell({ file, text, target }, terminal);
}
