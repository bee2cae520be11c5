import type { Issue } from "../../issue/issue.ts";
import type { ScenarioResult } from "../../scenario/index.ts";
import { pathText } from "../../scenario/keys.ts";
import { findValue } from "../../scenario/spread/index.ts";
import { readRange } from "../../scenario/spread/read-spread.ts";
import type { Varied } from "../pool/readings.ts";

/** More values than these no capture tells apart. */
const MOST_FREE = 12;
/** Bounds of a value that comes without: from a third of it to three times. */
const WIDE = 3;

/** One problem of a fit's input. */
export function problem(
  code: string,
  path: string,
  message: string,
  received: string | null,
  allowed: string | null,
  hint: string | null = null,
): Issue {
  return { severity: "error", code, path, message, received, allowed, hint, position: null };
}

/**
 * Reads the values that may move, each a path with bounds behind a `=` if need be; every problem at once.
 *
 * @example readFree(["crowbar.trip voltage", "sources[0].limit.off time = 200…400 ms"], parsed)
 */
export function readFree(
  texts: readonly string[],
  parsed: ScenarioResult,
): { readonly varied: readonly Varied[]; readonly issues: readonly Issue[] } {
  const issues: Issue[] = [];
  const varied: Varied[] = [];
  if (texts.length === 0 || texts.length > MOST_FREE)
    issues.push(
      problem(
        "free-count",
        "free",
        "A fit moves some values, and not too many.",
        `${texts.length} values`,
        `1 to ${MOST_FREE} paths`,
      ),
    );
  for (const [k, text] of texts.slice(0, 4 * MOST_FREE).entries()) {
    const found = readOne(text, `free[${k}]`, parsed);
    if ("severity" in found) issues.push(found);
    else if (varied.some(({ path }) => pathText(path) === pathText(found.path)))
      issues.push(problem("same-value", `free[${k}]`, "This value is named twice.", text.trim(), "each value once"));
    else varied.push(found);
  }
  return { varied, issues };
}

function readOne(text: string, at: string, parsed: ScenarioResult): Varied | Issue {
  const equals = text.indexOf("=");
  const name = (equals < 0 ? text : text.slice(0, equals)).trim();
  const found = findValue(name, parsed);
  if (!("path" in found)) return problem(found.code, at, found.message, found.received, found.allowed, found.hint);
  const { path, label, nominal } = found;
  const { dimension, unit, value } = nominal;
  if (equals < 0) {
    if (!(value > 0))
      return problem(
        "needs-bounds",
        at,
        "A value that is not above zero needs bounds.",
        name,
        `${name} = from…to, with the unit`,
      );
    return { path, label, dimension, unit, nominal: value, low: value / WIDE, high: value * WIDE };
  }
  const words = text.slice(equals + 1).trim();
  const ends = readRange(words, { ...nominal, ambient: parsed.scenario?.ambient ?? Number.NaN });
  if ("code" in ends) return problem(ends.code, at, ends.message, words, ends.allowed, ends.hint);
  if (value < ends.low || value > ends.high) {
    const stands = `${Number(value.toPrecision(6))} ${unit}`.trim();
    return problem(
      "start-outside",
      at,
      "The value as it stands in the scenario lies outside its bounds.",
      words,
      `bounds around ${stands}`,
      "widen them, or change the scenario",
    );
  }
  return { path, label, dimension, unit, nominal: value, ...ends };
}
