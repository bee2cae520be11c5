import { describeValue, findPart, formatQuantity } from "@railfault/sim";
import type { Change } from "../../kept/state.ts";
import type { LineOption } from "../../line/controls.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { type Group, shownWhere } from "./group.ts";
import { faultySource, ofFaulty, sourceKind, sourceOf, wordAt } from "./written.ts";

/** A voltage turned up has no figures of its own in any part class: a knob turned quickly, well past the radio's window. */
const TURNED_UP = "{kind: voltage turned up, end voltage: 18 V, slew: 50 V/s}";

const faultKind = (now: LineNow): string => wordAt(now, ofFaulty("fault", "kind")(now)) ?? "none";

function faultOptions(now: LineNow): LineOption[] {
  const source = faultySource(now);
  const path = ["sources", source, "fault"] as const;
  const option = (value: string, text: string, label = value): LineOption => ({
    value,
    label,
    changes: [[path, text]],
  });
  if (sourceKind(now, source) === "panel")
    return [option("shorted controller", "shorted controller"), option("none", "none", "no fault")];
  if (sourceKind(now, source) === "battery") return [option("none", "none", "no fault")];
  const reservoir = describeValue(now.parsed, ["sources", source, "reservoir", "capacitance"]) !== null;
  const shorted = option("shorted pass transistor", "shorted pass transistor", "pass transistor shorted");
  return [
    reservoir ? shorted : { ...shorted, disabled: true, note: "this supply has no raw voltage behind a transistor" },
    option("lost feedback", "lost feedback", "feedback lost"),
    option("voltage turned up", TURNED_UP),
    option("none", "none", "no fault"),
  ];
}

/** The supplies whose published times a style takes when it is chosen. */
const classOfStyle: Readonly<Record<string, string>> = {
  hiccup: "switch-mode supply 30 A, hiccup",
  foldback: "linear supply 20 A, foldback",
  "latch off": "switch-mode supply 25 A, latch off",
};

/** Current limit of a line that has none to keep, A. */
const USUAL_LIMIT = 25;

/** A limit of another style at the same current; its other figures are those of a supply that limits so. */
export function limitText(style: string, current: number): string {
  const values = findPart("supply", classOfStyle[style] ?? "")?.values ?? {};
  const figure = (key: string) => Number(values[key]?.value);
  const time = (key: string) => formatQuantity(figure(key), "time", { digits: 6 });
  const amperes = (value: number) => formatQuantity(value, "current", { digits: 4 });
  const folded = (current * figure("limit.shortCircuitCurrent")) / figure("limit.current");
  const more: Readonly<Record<string, string>> = {
    foldback: `, short circuit current: ${amperes(folded)}`,
    hiccup: `, detection time: ${time("limit.detectionTime")}, off time: ${time("limit.offTime")}, ramp time: ${time("limit.rampTime")}`,
    "latch off": `, detection time: ${time("limit.detectionTime")}`,
  };
  return style === "none" ? "none" : `{style: ${style}, current: ${amperes(current)}${more[style] ?? ""}}`;
}

const styles: readonly (readonly [style: string, label: string, what: string])[] = [
  ["none", "none", "It gives whatever is drawn."],
  ["constant current", "constant current", "It holds its limit and lets the voltage fall."],
  ["foldback", "foldback", "The lower the voltage, the less current it gives."],
  ["hiccup", "hiccup", "It stops, waits, and tries again for ever."],
  ["latch off", "latch-off", "It stops and stays off."],
];

const limitStyle = (now: LineNow): string => wordAt(now, ofFaulty("limit", "style")(now)) ?? "none";

function limitOptions(now: LineNow): LineOption[] {
  const source = faultySource(now);
  const present = describeValue(now.parsed, ["sources", source, "limit", "current"])?.value;
  const current = typeof present === "number" ? present : USUAL_LIMIT;
  return styles.map(([value, label]) => {
    const changes: readonly Change[] = [[["sources", source, "limit"], limitText(value, current)]];
    return { value, label, changes };
  });
}

function limitHelp(now: LineNow): string {
  const what = styles.find(([style]) => style === limitStyle(now))?.[2] ?? "";
  const idle = faultKind(now) === "shorted pass transistor" ? " A shorted transistor no longer obeys it." : "";
  return `${what}${idle} ${sourceOf(now, ofFaulty("limit", "style")(now))}`.trim();
}

/** What breaks, how far it goes, and what the supply does at its limit. */
export function faultControls({ line, range, choice }: OpenedLine): Group {
  const fault = choice({
    label: "What breaks",
    as: "list",
    options: faultOptions,
    current: faultKind,
    help: (now) => sourceOf(now, ofFaulty("fault", "kind")(now)),
  });
  const only = (kind: string) => (now: LineNow) => faultKind(now) === kind;
  const pass = range({
    label: "Resistance of the shorted transistor",
    path: ofFaulty("fault", "pass resistance"),
    dimension: "resistance",
    min: 5e-3,
    max: 2,
  });
  const end = range({
    label: "Turned up to",
    path: ofFaulty("fault", "end voltage"),
    dimension: "voltage",
    min: 14,
    max: 24,
    step: 0.1,
  });
  const ceiling = range({
    label: "The most that it is able to give",
    path: ofFaulty("fault", "ceiling voltage"),
    dimension: "voltage",
    min: 15,
    max: 32,
    step: 0.5,
  });
  const slew = range({
    label: "How fast the voltage rises",
    path: ofFaulty("fault", "slew"),
    dimension: "voltage slew",
    min: 1,
    max: 20_000,
    format: (value) => formatQuantity(value, "voltage slew", { digits: 3 }),
  });
  const limit = choice({
    label: "What the supply does at its limit",
    as: "menu",
    options: limitOptions,
    current: limitStyle,
    help: limitHelp,
  });
  const level = range({
    label: "Current limit",
    path: ofFaulty("limit", "current"),
    dimension: "current",
    min: 2,
    max: 60,
    step: 0.5,
  });
  const watched = range({ label: "Watched for", path: ["run for"], dimension: "time", min: 0.1, max: 60 });
  return {
    title: "The fault",
    controls: [
      fault,
      shownWhere(line, pass, only("shorted pass transistor")),
      shownWhere(line, end, only("voltage turned up")),
      shownWhere(line, ceiling, only("lost feedback")),
      shownWhere(line, slew, (now) => ["voltage turned up", "lost feedback"].includes(faultKind(now))),
      shownWhere(line, limit, (now) => sourceKind(now, faultySource(now)) === "supply"),
      shownWhere(line, level, (now) => limitStyle(now) !== "none"),
      watched,
    ],
  };
}
