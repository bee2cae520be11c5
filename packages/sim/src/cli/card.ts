import type { Arguments, Command } from "./command.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { SHEET_OPTIONS, sheetTarget } from "./sheet-options.ts";
import type { Terminal } from "./terminal.ts";

export const card: Command = {
  name: "card",
  usage: "FILE [options]",
  summary: "bench test card: try the protector safely, and what meters will show",
  about: [
    "Puts a current-limited bench source in the place of the line's sources and a resistor in the place of its loads, simulates that very line while the source is turned up slowly, and prints the card: cautions, settings of the source and why, the order of connecting, meter readings before, at and after the trip, what passes and what fails.",
    "Limits of the trip voltage come from the file's own tolerances; a file without them gets the worst case of the usual threshold circuit. They end where the protector would trip in normal service and where a load's window ends. A test that would hurt a part is refused, with the reason.",
  ],
  options: SHEET_OPTIONS,
  statuses: [
    [0, "here is the card"],
    [
      2,
      "bad input, a line without a protector that could be tried, a test that nothing can pass or that would hurt a part, or a file that cannot be written",
    ],
  ],
  examples: ["railfault card hut.yaml", "railfault card hut.yaml --html card.html"],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: cardCommand,
};

async function cardCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const [file = ""] = given.names;
  const target = sheetTarget(given);
  const text = readInput(file, LARGEST_SCENARIO);
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { cardAndTell } = await import("./sheets-and-tell.ts");
  return cardAndTell({ file, text, target, json: given.switches.has("json") }, terminal);
}
