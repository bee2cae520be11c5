import { draws } from "../../scenario/draws.ts";
import type { Draws } from "./mutate.ts";

/** What became of an input. */
export interface Ended {
  readonly taken: boolean;
  /** Everything that a person is told of it. */
  readonly said: string;
}

/** A way in for a stranger's data. */
export interface Entrance {
  readonly name: string;
  /** One input, and what is done with it; a throw is a defect. */
  readonly enter: (draw: Draws) => Ended | Promise<Ended>;
}

/** What moves a cursor, turns the reading direction or is no text at all, but for the ends of lines. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const UNCLEAN = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]/;

/** An input may take this long on a machine that has other things to do. */
const LONGEST_MS = 5000;
/** What is said of any input stays a page or two. */
const MOST_SAID = 400_000;

export interface Tally {
  readonly inputs: number;
  readonly taken: number;
  readonly defects: readonly string[];
  readonly slowest_ms: number;
  readonly perSecond: number;
}

/**
 * Sends so many inputs in, each from a seed of its own: the number of an input that did harm is enough to send it again.
 * Stops after a handful of defects, or when the time is over.
 */
export async function attack(
  { name, enter }: Entrance,
  from: number,
  count: number,
  longest_s = Number.POSITIVE_INFINITY,
): Promise<Tally> {
  const defects: string[] = [];
  let taken = 0;
  let slowest = 0;
  let inputs = 0;
  const languages = ownNames();
  const begin = performance.now();
  for (; inputs < count && defects.length < 5; inputs += 1) {
    const started = performance.now();
    if (started - begin > 1000 * longest_s) break;
    try {
      const ended = await enter(draws(from + inputs));
      if (ended.taken) taken += 1;
      const unclean = UNCLEAN.exec(ended.said);
      if (unclean !== null) defects.push(`${from + inputs}: says U+${unclean[0].charCodeAt(0).toString(16)}`);
      if (ended.said.length > MOST_SAID) defects.push(`${from + inputs}: says ${ended.said.length} characters`);
    } catch (error) {
      defects.push(`${from + inputs}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
    }
    const took = performance.now() - started;
    slowest = Math.max(slowest, took);
    if (took > LONGEST_MS) defects.push(`${from + inputs}: took ${took.toFixed(0)} ms`);
  }
  const seconds = (performance.now() - begin) / 1000;
  if (ownNames() !== languages) defects.push("the objects of the language were changed");
  const tally = { inputs, taken, defects, slowest_ms: slowest, perSecond: inputs / seconds };
  process.stderr.write(
    `MEASURED  ${name}: ${inputs} hostile inputs, ${taken} taken, ${defects.length} defects, ${tally.perSecond.toFixed(0)} a second, slowest ${slowest.toFixed(0)} ms\n`,
  );
  return tally;
}

/** What every object has from the language. */
const ownNames = (): string =>
  [Object.prototype, Array.prototype, String.prototype, Function.prototype]
    .map((one) => Reflect.ownKeys(one).length)
    .join();
