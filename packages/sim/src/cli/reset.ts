import type { Arguments, Command } from "./command.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { SHEET_OPTIONS, sheetTarget } from "./sheet-options.ts";
import type { Terminal } from "./terminal.ts";

export const reset: Command = {
  name: "reset",
  usage: "FILE [options]",
  summary: "reset sheet: how everything stands after the trip, and how to get back",
  about: [
    "Runs the scenario and prints in which state its fault leaves every part, what still goes on, what was used up, and what to do before the next use, in this order: find the fault before replacing the fuse.",
  ],
  options: SHEET_OPTIONS,
  statuses: [
    [0, "here is the sheet, whatever the verdict says"],
    [2, "bad input, or a file that cannot be written"],
    [3, "no verdict: the solver failed, or the energy does not close"],
  ],
  examples: ["railfault reset hut.yaml", "railfault reset hut.yaml --html reset.html"],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: resetCommand,
};

async function resetCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const [file = ""] = given.names;
  const target = sheetTarget(given);
  const text = readInput(file, LARGEST_SCENARIO);
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { resetAndTell } = await import("./sheets-and-tell.ts");
  return resetAndTell({ file, text, target, json: given.switches.has("json") }, terminal);
}
