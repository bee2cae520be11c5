import { describeValue } from "@railfault/sim";
import type { Change, Path } from "../../kept/state.ts";
import type { LineOption } from "../../line/controls.ts";
import type { LineNow } from "../../line/line.ts";
import { asText, has, wordAt, writtenAt } from "./written.ts";

/** One way of protecting a line. */
export interface Protector {
  readonly value: string;
  readonly label: string;
  readonly what: string;
  /** Keys that it needs at the top of a scenario file. */
  readonly parts: readonly ("crowbar" | "clamp" | "series switch")[];
  /** Of the crowbar. */
  readonly variant?: "plain" | "gate kept on until reset" | "crowbar with disconnect";
  /** Of the series switch. */
  readonly opens?: "transistor" | "relay";
}

/** The ways that the page offers, from nothing to a contact. */
export const protectors: readonly Protector[] = [
  { value: "none", label: "none", what: "Only the main fuse stands in the line.", parts: [] },
  {
    value: "scr",
    label: "SCR with fuse",
    what: "It shorts the line; the fuse must end the current.",
    parts: ["crowbar"],
    variant: "plain",
  },
  {
    value: "held",
    label: "SCR, gate kept on",
    what: "Once fired it stays on until somebody resets it.",
    parts: ["crowbar"],
    variant: "gate kept on until reset",
  },
  {
    value: "disconnect",
    label: "crowbar with disconnect",
    what: "The SCR shorts the line while a contact takes the radio off.",
    parts: ["crowbar", "series switch"],
    variant: "crowbar with disconnect",
    opens: "relay",
  },
  { value: "clamp", label: "clamp", what: "It takes the surplus as heat, as long as it can.", parts: ["clamp"] },
  {
    value: "transistor",
    label: "series transistor",
    what: "It opens the line before the radio.",
    parts: ["series switch"],
    opens: "transistor",
  },
  {
    value: "relay",
    label: "relay contact",
    what: "It opens the line before the radio, some milliseconds late.",
    parts: ["series switch"],
    opens: "relay",
  },
];

const keys = ["crowbar", "clamp", "series switch"] as const;
const classes = { transistor: "series transistor 30 A", relay: "relay 30 A" } as const;
const DEFAULT_TRIP = "15.0 V";
/** A disconnect waits a little above the crowbar, so that the SCR is the one that fires. */
const DISCONNECT = "15.5 V";

/** Which of the ways a line's file has; null for a mixture of its own. */
export function protectorOf(now: LineNow): Protector | null {
  const there = keys.filter((key) => has(now, [key]));
  const variant = wordAt(now, ["crowbar", "variant"]);
  const opens = switchKind(now);
  const fits = (each: Protector): boolean =>
    each.parts.length === there.length &&
    each.parts.every((part) => there.includes(part)) &&
    (each.variant === undefined || each.variant === variant) &&
    (each.opens === undefined || each.opens === opens);
  return protectors.find(fits) ?? null;
}

function switchKind(now: LineNow): string | null {
  const part = wordAt(now, ["series switch", "part"]) ?? "";
  const known = (["transistor", "relay"] as const).find((kind) => classes[kind] === part);
  return wordAt(now, ["series switch", "kind"]) ?? known ?? null;
}

/** The voltage at which the line's protector acts, with its path: of the crowbar where there is one. */
export function tripPath(now: LineNow): Path {
  return has(now, ["crowbar"]) || !has(now, ["series switch"])
    ? ["crowbar", "trip voltage"]
    : ["series switch", "off voltage"];
}

const usualCrowbar: Readonly<Record<string, unknown>> = { part: "SCR 55 A", "sense filter": "fast" };

function mapAt(now: LineNow, path: Path): Readonly<Record<string, unknown>> {
  const written = writtenAt(now, path);
  return typeof written === "object" && written !== null ? { ...written } : {};
}

const textAt = (now: LineNow, path: Path): string | null => describeValue(now.parsed, path)?.text ?? null;

/**
 * What turns a line's protection into another one. The voltage at which it acts goes over, and so does what the file says of a part
 * that stays or comes back.
 */
export function protectorChanges(now: LineNow, wanted: Protector): Change[] {
  const original = { ...now, parsed: now.original };
  const trip = textAt(now, tripPath(now)) ?? textAt(original, tripPath(original)) ?? DEFAULT_TRIP;
  const crowbar = (): Change[] => {
    if (!has(now, ["crowbar"])) {
      const before = { ...usualCrowbar, ...mapAt(original, ["crowbar"]), "trip voltage": trip };
      return [[["crowbar"], asText({ ...before, variant: wanted.variant ?? "plain" })]];
    }
    if (wordAt(now, ["crowbar", "variant"]) === wanted.variant) return [];
    return [[["crowbar", "variant"], wanted.variant === "plain" ? null : (wanted.variant ?? null)]];
  };
  const opener = (): Change[] => {
    const kind = wanted.opens ?? "relay";
    const off = wanted.parts.includes("crowbar") ? DISCONNECT : trip;
    const known = [now, original].find((each) => switchKind(each) === kind);
    const before = known === undefined ? { part: classes[kind] } : mapAt(known, ["series switch"]);
    return [[["series switch"], asText({ ...before, "off voltage": off })]];
  };
  const there: Readonly<Record<(typeof keys)[number], () => Change[]>> = {
    crowbar,
    clamp: () => (has(now, ["clamp"]) ? [] : [[["clamp"], "clamp diode 1500 W, 15 V"]]),
    "series switch": opener,
  };
  return keys.flatMap((key) => (wanted.parts.includes(key) ? there[key]() : [[[key], null] as const]));
}

/** The choices of the page's protector. */
export function protectorOptions(): LineOption[] {
  return protectors.map((each) => ({
    value: each.value,
    label: each.label,
    changes: (now: LineNow) => protectorChanges(now, each),
  }));
}

/** What takes away everything that could protect a radio; the main fuse stays, for it protects the wire. */
export function withoutProtection(now: LineNow): Change[] {
  const own = ["own crowbar", "own OVP"] as const;
  const listed = (key: string): number[] => {
    const written = writtenAt(now, [key]);
    return Array.isArray(written) ? written.map((_, index) => index) : [];
  };
  const paths: Path[] = [
    ...keys.map((key) => [key]),
    ...listed("sources").flatMap((index) => own.map((key) => ["sources", index, key])),
    ...listed("loads").map((index) => ["loads", index, "clamp"]),
  ];
  return paths.filter((path) => has(now, path)).map((path) => [path, null] as const);
}
