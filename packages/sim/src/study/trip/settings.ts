import type { Issue } from "../../issue/issue.ts";
import { type Dimension, formatQuantity, nearest, parseQuantity } from "../../units/index.ts";
import { resistorGrades } from "./resistors.ts";
import { thresholdNames } from "./thresholds.ts";
import type { TripSettings } from "./types.ts";

/** One setting: how it is written, what it may be. */
export interface TripSettingSpec {
  /** Which of the settings. */
  readonly key: keyof TripSettings;
  /** As on the command line. */
  readonly name: string;
  /** What it is, for help and forms. */
  readonly about: string;
  /** Null: a word of `words`. */
  readonly dimension: Dimension | null;
  /** Words that may stand for it. */
  readonly words: readonly string[];
  /** Smallest number allowed, in the dimension's own unit. */
  readonly least: number;
  /** Largest number allowed. */
  readonly most: number;
  /** As it would be written; null: taken from the line or the device. */
  readonly usual: string | null;
}

const word = (key: keyof TripSettings, words: readonly string[], usual: string, about: string): TripSettingSpec => ({
  key,
  name: key,
  about,
  dimension: null,
  words,
  least: 0,
  most: 0,
  usual,
});

function quantity(
  key: keyof TripSettings,
  name: string,
  dimension: Dimension,
  [least, most]: readonly [number, number],
  usual: string | null,
  about: string,
): TripSettingSpec {
  return { key, name, about, dimension, words: [], least, most, usual };
}

/** Every setting of a trip study in the order in which they are asked for. */
export const tripSettingSpecs: readonly TripSettingSpec[] = [
  word("threshold", thresholdNames, "shunt reference 1 %", "what compares the line with the trip point"),
  word("resistors", resistorGrades, "1 %", "grade of the divider's resistors"),
  quantity("coldest", "coldest", "temperature", [-60, 100], "-20 °C", "lowest temperature of the protector"),
  quantity("hottest", "hottest", "temperature", [-60, 120], "40 °C", "highest temperature of the protector"),
  quantity(
    "supplyMaximum",
    "supply-maximum",
    "voltage",
    [1, 60],
    null,
    "highest voltage of the supply in normal service; else its set voltage and 1 %",
  ),
  quantity("ripple", "ripple", "voltage", [0, 5], "50 mV", "peak of the supply's ripple above its mean"),
  quantity(
    "chargeVoltage",
    "charge-voltage",
    "voltage",
    [1, 60],
    null,
    "to which a battery is charged at 25 °C; else the float voltage, and with a charger or panel what its kind asks for",
  ),
  quantity(
    "compensation",
    "compensation",
    "voltage",
    [0, 0.2],
    null,
    "how much more the charger gives for each kelvin below 25 °C; else 20 mV for a lead battery that is charged",
  ),
  quantity("pickup", "pick-up", "voltage", [0, 5], "100 mV", "what radio-frequency pick-up adds at the sense input"),
  quantity("transmit", "transmit", "current", [0.001, 1000], null, "what the first load draws while it transmits"),
  quantity(
    "ramp",
    "ramp",
    "voltage slew",
    [1e-3, 1e9],
    null,
    "steepest rise of a supply that loses its feedback; else the line's own fault",
  ),
  quantity("delay", "delay", "time", [0, 0.1], null, "delay of the threshold device; else the device's own"),
  quantity("bias", "bias", "current", [1e-5, 0.05], "1 mA", "current through the divider"),
  quantity("wanted", "wanted", "voltage", [1, 60], null, "trip point asked for; else the middle of what is possible"),
];

/** What a person wrote, by the settings' keys; what is left out is as usual. */
export type TripWishes = Readonly<Partial<Record<keyof TripSettings, string>>>;

/**
 * Reads the settings of a trip study.
 *
 * @param wishes as written, for instance `{ resistors: "0.1 %", coldest: "-10 °C" }`
 * @returns the settings, or every problem of what was written: where, what was received, what is allowed
 * @example readTripSettings({ threshold: "sensing IC" })
 */
export function readTripSettings(
  wishes: TripWishes = {},
):
  | { readonly settings: TripSettings; readonly issues: readonly [] }
  | { readonly settings: null; readonly issues: readonly Issue[] } {
  const issues: Issue[] = [];
  const unknown = Object.keys(wishes).filter((key) => !tripSettingSpecs.some((spec) => spec.key === key));
  for (const key of unknown) issues.push(unknownSetting(key, wishes[key as keyof TripSettings] ?? ""));
  const read = Object.fromEntries(
    tripSettingSpecs.map((spec) => [spec.key, settingValue(spec, wishes[spec.key] ?? spec.usual, issues)]),
  );
  const settings = read as unknown as TripSettings;
  if (issues.length === 0 && !(settings.coldest < settings.hottest)) {
    issues.push(
      issue("not-rising", "hottest", "The highest temperature must lie above the lowest one.", {
        received: formatQuantity(settings.hottest, "temperature"),
        allowed: `more than ${formatQuantity(settings.coldest, "temperature")}`,
      }),
    );
  }
  return issues.length === 0 ? { settings, issues: [] } : { settings: null, issues };
}

function settingValue(spec: TripSettingSpec, text: string | null, issues: Issue[]): number | string | null {
  if (text === null) return null;
  const { name, dimension, words, least, most } = spec;
  if (dimension === null) {
    const spaced = text.trim().replace(/(\d) ?%$/, "$1 %");
    if (words.includes(spaced)) return spaced;
    const near = nearest(spaced, [...words]);
    issues.push(
      issue(
        "unknown-word",
        name,
        `There is no ${name === "threshold" ? "threshold device" : "grade of resistors"} of this name.`,
        {
          received: text,
          allowed: words.join(", "),
          hint: near === null ? null : `did you mean ${near}?`,
        },
      ),
    );
    return null;
  }
  const parsed = parseQuantity(text, dimension);
  if (!parsed.ok) {
    issues.push(
      issue(parsed.code, name, parsed.message, { received: text, allowed: parsed.allowed, hint: parsed.hint }),
    );
    return null;
  }
  if (parsed.value >= least && parsed.value <= most) return parsed.value;
  issues.push(
    issue("out-of-range", name, "This value is out of range.", {
      received: text,
      allowed: `from ${formatQuantity(least, dimension)} to ${formatQuantity(most, dimension)}`,
    }),
  );
  return null;
}

function unknownSetting(key: string, received: string): Issue {
  const known = tripSettingSpecs.map((spec) => spec.key);
  const near = nearest(key, known);
  return issue("unknown-key", key, "There is no setting of this name.", {
    received,
    allowed: known.join(", "),
    hint: near === null ? null : `did you mean ${near}?`,
  });
}

/** An issue of the settings, or of a line that cannot be asked. */
export function issue(
  code: string,
  path: string,
  message: string,
  more: { readonly received?: string | null; readonly allowed?: string | null; readonly hint?: string | null } = {},
): Issue {
  const { received = null, allowed = null, hint = null } = more;
  return { severity: "error", code, path, message, received, allowed, hint, position: null };
}
