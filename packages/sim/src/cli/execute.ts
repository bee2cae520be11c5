import { readArguments } from "./arguments.ts";
import { UsageError } from "./command.ts";
import { commands } from "./commands.ts";
import { commandHelp, generalHelp, unknownCommand } from "./help.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";

const BAD_USE = 2;

/**
 * Does what the words of a command line say, in this process.
 *
 * @param words what stands after the program's name
 * @param terminal where it is said
 * @returns the exit status
 * @throws what is a mistake of the program and not of its user
 * @example process.exitCode = await execute(["check", "hut.yaml"], processTerminal());
 */
export async function execute(words: readonly string[], terminal: Terminal): Promise<number> {
  const [name, ...rest] = words;
  if (name === undefined) {
    terminal.sayText(generalHelp(terminal.width));
    return BAD_USE;
  }
  if (name === "--version" || name === "-V") {
    terminal.out(`railfault ${version()}\n`);
    return 0;
  }
  const asksHelp = name === "--help" || name === "-h" || name === "help";
  const wanted = asksHelp ? rest[0] : name;
  if (wanted === undefined) {
    terminal.out(generalHelp(terminal.width));
    return 0;
  }
  const command = commands.find((each) => each.name === wanted);
  if (command === undefined) {
    terminal.say(unknownCommand(wanted));
    return BAD_USE;
  }
  const options = rest.includes("--") ? rest.slice(0, rest.indexOf("--")) : rest;
  if (asksHelp || options.includes("--help") || options.includes("-h")) {
    terminal.out(commandHelp(command, terminal.width));
    return 0;
  }
  try {
    return await command.run(readArguments(command, rest), terminal);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    // A word may be a hundred thousand characters long; its ends tell which one is meant, and what is wrong with it.
    for (const problem of error.problems) terminal.say(`railfault ${command.name}: ${cut(problem)}`);
    terminal.say(`How to use it: railfault help ${command.name}`);
    return BAD_USE;
  }
}

const LONGEST = 2000;

function cut(text: string): string {
  return text.length > LONGEST ? `${text.slice(0, LONGEST / 2)} … ${text.slice(-LONGEST / 2)}` : text;
}
