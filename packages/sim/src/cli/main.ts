import { execute } from "./execute.ts";
import { processTerminal } from "./terminal.ts";

const BROKEN = 3;

const terminal = processTerminal();

/** A mistake of the program, not of its user: never to be taken for a verdict. */
function tellMistake(error: unknown): void {
  terminal.say(
    `railfault: this is a mistake of the program: ${error instanceof Error ? error.message : String(error)}`,
  );
  if (process.env.RAILFAULT_DEBUG && error instanceof Error) terminal.sayText(`${error.stack}\n`);
  else terminal.say("Set RAILFAULT_DEBUG=1 to see where it happened, and report it with the scenario.");
  process.exitCode = BROKEN;
}

// Also what nobody waits for, such as a thread that dies while it is started: Node would end with 1, which is a verdict.
process.once("uncaughtException", (error) => {
  tellMistake(error);
  process.exit();
});
try {
  process.exitCode = await execute(process.argv.slice(2), terminal);
} catch (error) {
  tellMistake(error);
}
