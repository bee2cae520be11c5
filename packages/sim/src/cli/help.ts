import { wrap } from "../report/text-wrap.ts";
import { nearest } from "../units/index.ts";
import type { Command } from "./command.ts";
import { commands } from "./commands.ts";

const JOB =
  "Railfault works out what a fault on a 12 V line does: what the radio saw, whether the fuse blew, whether the protector trips again and again, and what else was hurt.";

/** Of `railfault --help`. */
export function generalHelp(width: number): string {
  const rows = commands.map(({ name, summary }) => [name, summary] as const);
  return [
    wrap(JOB, width),
    "",
    "Usage: railfault COMMAND [options]",
    "",
    "Commands",
    ...table([...rows, ["help", "say more about a command: railfault help COMMAND"]], width),
    "",
    "Options",
    ...table(
      [
        ["--help, -h", "this text, or after a command its own"],
        ["--version, -V", "the version"],
      ],
      width,
    ),
    "",
  ].join("\n");
}

/** Of `railfault help COMMAND`. */
export function commandHelp(command: Command, width: number): string {
  const options = command.options.map(
    ({ name, value, about }) => [value === null ? `--${name}` : `--${name} ${value}`, about] as const,
  );
  return [
    `Usage: railfault ${command.name} ${command.usage}`,
    "",
    ...command.about.flatMap((paragraph) => [wrap(paragraph, width), ""]),
    ...section("Options", table([...options, ["--help, -h", "this text"]], width)),
    ...section(
      "Exit status",
      table(
        command.statuses.map(([status, meaning]) => [String(status), meaning] as const),
        width,
      ),
    ),
    ...section(
      "Examples",
      command.examples.map((example) => `  ${example}`),
    ),
  ].join("\n");
}

/** Names the command that was probably meant. */
export function unknownCommand(word: string): string {
  const known = commands.map(({ name }) => name);
  const near = nearest(word, [...known, "help"]);
  const help = near === null ? `commands are ${known.join(", ")}.` : `did you mean "${near}"?`;
  return `railfault: there is no command "${word.slice(0, 60)}": ${help} See railfault --help.`;
}

function section(title: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [title, ...lines, ""];
}

function table(rows: readonly (readonly [string, string])[], width: number): string[] {
  const first = Math.max(...rows.map(([name]) => name.length));
  return rows.map(([name, about]) => {
    const start = `  ${name.padEnd(first)}  `;
    return wrap(about, width, start, " ".repeat(start.length));
  });
}
