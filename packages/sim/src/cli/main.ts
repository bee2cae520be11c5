import { readArguments } from "./arguments.ts";
import { UsageError } from "./command.ts";
import { commands } from "./commands.ts";
import { commandHelp, generalHelp, unknownCommand } from "./help.ts";
import { processTerminal, type Terminal } from "./terminal.ts";
import { version } from "./version.ts";

const BAD_USE = 2;
const BROKEN = 3;

/** Gives the exit status. */
async function main(words: readonly string[], terminal: Terminal): Promise<number> {
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
    for (const problem of error.problems) terminal.say(`railfault ${command.name}: ${problem}`);
    terminal.say(`How to use it: railfault help ${command.name}`);
    return BAD_USE;
  }
}

const terminal = processTerminal();
try {
  process.exitCode = await main(process.argv.slice(2), terminal);
} catch (error) {
  // A mistake of the program, not of its user: never to be taken for a verdict.
  terminal.say(
    `railfault: this is a mistake of the program: ${error instanceof Error ? error.message : String(error)}`,
  );
  if (process.env.RAILFAULT_DEBUG && error instanceof Error) terminal.sayText(`${error.stack}\n`);
  else terminal.say("Set RAILFAULT_DEBUG=1 to see where it happened, and report it with the scenario.");
  process.exitCode = BROKEN;
}
