import { parseArgs } from "node:util";
import { nearest, parseQuantity } from "../units/index.ts";
import { type Arguments, type Command, type OptionSpec, UsageError } from "./command.ts";

/**
 * Reads what stands after a command's name: options in any place, `--` ends them, a value as `--name VALUE` or `--name=VALUE`.
 *
 * @throws UsageError with every problem: unknown options with the nearest known one, missing values, wrong words, too many or too few names
 */
export function readArguments(command: Command, words: readonly string[]): Arguments {
  const args = unitsJoined(command, words);
  const { tokens } = parseArgs({
    args,
    options: Object.fromEntries(
      command.options.map(({ name, value }) => [name, { type: value === null ? "boolean" : "string" } as const]),
    ),
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  const problems: string[] = [];
  // What stands right behind an option that nobody knows is rather its value than a name.
  const perhaps: string[] = [];
  let behindStrange = false;
  let strange = -1;
  const names: string[] = [];
  const values = new Map<string, string>();
  const switches = new Set<string>();
  for (const token of tokens) {
    if (token.kind === "positional") (behindStrange ? perhaps : names).push(token.value);
    behindStrange = false;
    if (token.kind !== "option") continue;
    const option = command.options.find(({ name, also }) => name === token.name || also === token.name);
    behindStrange = option === undefined;
    // Letters behind one dash are an option each to the reader of words, and one word to who wrote it.
    if (option === undefined && token.index === strange) continue;
    if (option === undefined) strange = token.index;
    const written = token.rawName.startsWith("--") ? token.rawName : (args[token.index] ?? token.rawName);
    const problem = option === undefined ? unknown(command, written) : misused(option, token);
    const name = option?.name ?? token.name;
    if (problem !== null) problems.push(problem);
    else if (values.has(name)) problems.push(`${token.rawName} stands twice.`);
    else if (token.value === undefined) switches.add(name);
    else values.set(name, token.value);
  }
  const { what, least, most } = command.names;
  if (names.length + perhaps.length < least) problems.push(`${what} ${what.includes(" and ") ? "are" : "is"} missing.`);
  if (names.length > most) {
    const surplus = names.slice(most).map((name) => `"${name}"`);
    problems.push(
      most === 0
        ? `${surplus.join(", ")}: this command takes no names.`
        : `${surplus.join(", ")}: this command takes only ${most === 1 ? "one name" : `${most} names`}.`,
    );
  }
  if (problems.length > 0) throw new UsageError(problems);
  return { names, values, switches };
}

interface OptionToken {
  readonly rawName: string;
  readonly value?: string | undefined;
  readonly inlineValue?: boolean | undefined;
}

function unknown(command: Command, rawName: string): string {
  const known = command.options.map(({ name }) => `--${name}`);
  const near = nearest(rawName, known);
  const help = near === null ? `known are ${known.join(", ") || "none"}.` : `did you mean ${near}?`;
  return `There is no option ${rawName}: ${help}`;
}

function misused({ value, words }: OptionSpec, token: OptionToken): string | null {
  if (value === null) return token.value === undefined ? null : `${token.rawName} takes no value.`;
  const written = token.value;
  const swallowed = token.inlineValue !== true && written !== undefined && written.startsWith("--");
  if (written === undefined || written === "" || swallowed) return `${token.rawName} needs a value: ${value}.`;
  if (words === undefined || words.includes(written)) return null;
  const near = nearest(written, words);
  return `${token.rawName} is ${words.join(", ")}; received "${written}"${near === null ? "" : `, did you mean ${near}?`}`;
}

/** `--until 5 ms`: a shell hands over the unit as a word of its own; it belongs to the number. */
function unitsJoined(command: Command, words: readonly string[]): string[] {
  const joined: string[] = [];
  for (const word of words) {
    const [option, number] = joined.slice(-2);
    const takesTime = command.options.some(({ name, value }) => value === "TIME" && option === `--${name}`);
    const previous = joined[joined.length - 1] ?? "";
    const inline = command.options.some(({ name, value }) => value === "TIME" && previous.startsWith(`--${name}=`));
    const bare = inline ? previous.slice(previous.indexOf("=") + 1) : takesTime ? (number ?? "") : "";
    if (bare !== "" && Number.isFinite(Number(bare)) && parseQuantity(`${bare} ${word}`, "time").ok) {
      joined[joined.length - 1] = `${previous} ${word}`;
    } else joined.push(word);
  }
  return joined;
}
