import type { Arguments, Command } from "./command.ts";
import { SCHEMES } from "./figures.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { talkTargets } from "./sheet-options.ts";
import type { Terminal } from "./terminal.ts";

export const talk: Command = {
  name: "talk",
  usage: "FILE… [options]",
  summary: "a talk of one or more faults: steps through offline, and all its pictures",
  about: [
    "Runs each scenario and makes slides of it: the question with the line, the fault event by event with a picture that grows from microseconds to its end, how it came out, which limit came nearest or was passed, what to do before the next use. The text lists them.",
    "--html writes one file that steps through without a network: arrow keys, space, Page Up and Down, Home, End, and f for the whole screen. --zip writes every slide, the cautions last, as SVG and as PNG of 1920 × 1080 pixels, for slides of your own.",
  ],
  options: [
    { name: "html", value: "FILE", about: "write the talk as one file that steps through" },
    { name: "zip", value: "FILE", about: "write all slides as SVG and PNG into an archive" },
    { name: "scheme", value: "SCHEME", about: "colours: light (default) or dark", words: SCHEMES },
  ],
  statuses: [
    [0, "written, whatever the verdicts say"],
    [2, "bad input, or a file that cannot be written"],
    [3, "no verdict on one of the scenarios: the solver failed, or the energy does not close"],
  ],
  examples: [
    "railfault talk hut.yaml --html talk.html",
    "railfault talk hut.yaml hiccup.yaml --html talk.html --zip pictures.zip",
    "railfault talk hut.yaml --zip pictures.zip --scheme dark",
  ],
  names: { what: "The scenario file", least: 1, most: 20 },
  run: talkCommand,
};

async function talkCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const targets = talkTargets(given);
  const texts = given.names.map((file) => ({ file, text: readInput(file, LARGEST_SCENARIO) }));
  const scheme = SCHEMES.find((name) => name === given.values.get("scheme")) ?? "light";
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { talkAndTell } = await import("./talk-and-tell.ts");
  return talkAndTell({ texts, targets, scheme }, terminal);
}
