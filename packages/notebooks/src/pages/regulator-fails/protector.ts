import { describeValue, formatQuantity, parseQuantity } from "@railfault/sim";
import type { Change, Path } from "../../kept/state.ts";
import type { LineOption } from "../../line/controls.ts";
import { baseText, type Line, type LineNow } from "../../line/line.ts";
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
/** A disconnect waits this much above the crowbar, so that the SCR is the one that fires; V. */
const DISCONNECT_ABOVE = 0.5;

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

/** The line as it stood when something was last true of it; null: it never was. */
export type StoodLast = (fits: (now: LineNow) => boolean) => LineNow | null;

const hasTrip = (now: LineNow): boolean => textAt(now, tripPath(now)) !== null;
const disconnects = (now: LineNow): boolean => has(now, ["crowbar"]) && has(now, ["series switch"]);

/**
 * Remembers each protector as it stood last: one that gives way to another has no place in the text, and comes back as somebody set it.
 * Of another line nothing is remembered.
 *
 * @returns what tells it; it ends with the line
 */
export function protectorMemory(line: Pick<Line, "follow">): StoodLast {
  let of: string | null = null;
  let seen: LineNow[] = [];
  const worthKeeping = [hasTrip, disconnects, ...keys.map((key) => (now: LineNow) => has(now, [key]))];
  line.follow((now) => {
    const base = baseText(now.state.line);
    const all = base === of ? [now, ...seen] : [now];
    of = base;
    const kept = new Set(worthKeeping.map((fits) => all.find(fits)));
    seen = all.filter((each) => kept.has(each));
  });
  return (fits) => seen.find(fits) ?? null;
}

/**
 * What turns a line's protection into another one. The voltage at which it acts goes over, and so does what is set of a part
 * that stays or comes back.
 *
 * @param before what stood in this line earlier; left out: what its file says
 */
export function protectorChanges(now: LineNow, wanted: Protector, before?: StoodLast): Change[] {
  const opened = { ...now, parsed: now.original };
  const earlier: StoodLast = (fits) => (fits(now) ? now : (before?.(fits) ?? (fits(opened) ? opened : null)));
  const acted = earlier(hasTrip);
  const trip = (acted && textAt(acted, tripPath(acted))) ?? DEFAULT_TRIP;
  const crowbar = (): Change[] => {
    if (!has(now, ["crowbar"])) {
      const put = earlier((each) => has(each, ["crowbar"]));
      const made = { ...usualCrowbar, ...(put && mapAt(put, ["crowbar"])), "trip voltage": trip };
      return [[["crowbar"], asText({ ...made, variant: wanted.variant ?? "plain" })]];
    }
    if (wordAt(now, ["crowbar", "variant"]) === wanted.variant) return [];
    return [[["crowbar", "variant"], wanted.variant === "plain" ? null : (wanted.variant ?? null)]];
  };
  const clamp = (): Change[] => {
    if (has(now, ["clamp"])) return [];
    const put = earlier((each) => has(each, ["clamp"]));
    return [[["clamp"], put === null ? "clamp diode 1500 W, 15 V" : asText(writtenAt(put, ["clamp"]))]];
  };
  const opener = (): Change[] => {
    const kind = wanted.opens ?? "relay";
    const off = wanted.parts.includes("crowbar") ? offBeside(trip, earlier(disconnects)) : trip;
    const put = earlier((each) => switchKind(each) === kind);
    const made = put === null ? { part: classes[kind] } : mapAt(put, ["series switch"]);
    return [[["series switch"], asText({ ...made, "off voltage": off })]];
  };
  const there: Readonly<Record<(typeof keys)[number], () => Change[]>> = { crowbar, clamp, "series switch": opener };
  return keys.flatMap((key) => (wanted.parts.includes(key) ? there[key]() : [[[key], null] as const]));
}

/** Where a disconnect opens beside a crowbar of this trip voltage: as it was set for that, else a little above. */
function offBeside(trip: string, set: LineNow | null): string {
  const off = set && textAt(set, ["series switch", "off voltage"]);
  if (set !== null && off !== null && textAt(set, ["crowbar", "trip voltage"]) === trip) return off;
  const read = parseQuantity(trip, "voltage");
  return read.ok ? formatQuantity(read.value + DISCONNECT_ABOVE, "voltage", { digits: 6 }) : trip;
}

/** The choices of the page's protector. */
export function protectorOptions(before: StoodLast): LineOption[] {
  return protectors.map((each) => ({
    value: each.value,
    label: each.label,
    changes: (now: LineNow) => protectorChanges(now, each, before),
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
