import type { Issue } from "../../issue/issue.ts";
import type { ScenarioResult } from "../../scenario/index.ts";
import { findValue } from "../../scenario/spread/index.ts";
import { readRange } from "../../scenario/spread/read-spread.ts";
import type { Varied } from "../pool/readings.ts";

/** A value that is varied between two ends. */
export interface Axis extends Varied {
  /** Evenly in the logarithm. */
  readonly byDecades: boolean;
}

/**
 * Reads what is to be varied: `crowbar.trip voltage: 14…17 V`, `station supply.fault.slew: 0.5…50 V/ms by decades`.
 *
 * @param name of the axis, for messages
 * @param parsed the scenario in which the value stands
 * @returns the axis, or all that is wrong with it
 */
export function readAxis(name: string, text: string, parsed: ScenarioResult): Axis | readonly Issue[] {
  const issue = (
    code: string,
    message: string,
    received: string,
    allowed: string | null,
    hint: string | null,
  ): Issue => ({
    severity: "error",
    code,
    path: name,
    message,
    received,
    allowed,
    hint,
    position: null,
  });
  const colon = text.indexOf(":");
  const shape = "a path, a colon and a range: `crowbar.trip voltage: 14…17 V`, with `by decades` behind it if need be";
  if (colon < 0)
    return [issue("unreadable-axis", "This does not say what is varied from where to where.", text, shape, null)];
  const found = findValue(text.slice(0, colon), parsed);
  if (!("path" in found)) return [issue(found.code, found.message, found.received, found.allowed, found.hint)];
  const words = text.slice(colon + 1).trim();
  const byDecades = words.endsWith(" by decades");
  const range = byDecades ? words.slice(0, -" by decades".length) : words;
  const { path, label, nominal } = found;
  const ends = readRange(range, { ...nominal, ambient: parsed.scenario?.ambient ?? Number.NaN });
  if ("code" in ends) return [issue(ends.code, ends.message, range, ends.allowed, ends.hint)];
  if (byDecades && ends.low <= 0)
    return [
      issue("not-positive", "By decades a value is varied between ends above zero.", range, "ends above zero", null),
    ];
  const { dimension, unit, value } = nominal;
  return { path, label, dimension, unit, nominal: value, low: ends.low, high: ends.high, byDecades };
}

/** The value at a share of the way along an axis, in its unit. */
export function along({ low, high, byDecades }: Axis, share: number): number {
  return byDecades ? low * (high / low) ** share : low + (high - low) * share;
}
