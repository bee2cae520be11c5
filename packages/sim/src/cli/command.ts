import type { Terminal } from "./terminal.ts";

export interface OptionSpec {
  /** Long name without dashes. */
  readonly name: string;
  /** What stands for the value in the help, for instance `FILE`; null: a switch. */
  readonly value: string | null;
  readonly about: string;
  /** Another spelling. */
  readonly also?: string;
  /** Words of which the value is one; null: free. */
  readonly words?: readonly string[];
}

/** What a user wrote after the name of the command. */
export interface Arguments {
  readonly names: readonly string[];
  readonly values: ReadonlyMap<string, string>;
  readonly switches: ReadonlySet<string>;
}

export interface Command {
  readonly name: string;
  /** After the name: `FILE [options]`. */
  readonly usage: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** Paragraphs of the help. */
  readonly about: readonly string[];
  readonly options: readonly OptionSpec[];
  readonly statuses: readonly (readonly [status: number, meaning: string])[];
  readonly examples: readonly string[];
  /** How many names it takes, for instance files. */
  readonly names: { readonly what: string; readonly least: number; readonly most: number };
  /** Gives the exit status. */
  run(given: Arguments, terminal: Terminal): number | Promise<number>;
}

/** Wrong use of the command line: each problem a sentence; ends with status 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
  constructor(readonly problems: readonly string[]) {
    super(problems.join("\n"));
  }
}
