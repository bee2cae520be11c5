import { formatQuantity, partNames, parts } from "@railfault/sim";
import type { Path } from "../../kept/state.ts";
import type { LineOption } from "../../line/controls.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { type Group, shownWhere } from "./group.ts";
import { protectorMemory, protectorOf, protectorOptions, tripPath } from "./protector.ts";
import { has, ofFaulty, sourceOf, wordAt, writtenAt } from "./written.ts";

const filters: readonly (readonly [value: string, label: string])[] = [
  ["fast", "fast, 10 µs"],
  ["RF-filtered", "RF-filtered, 100 µs"],
  ["1 ms", "slow, 1 ms"],
];

const filterPath = (now: LineNow): Path =>
  has(now, ["crowbar"]) ? ["crowbar", "sense filter"] : ["series switch", "sense filter"];

/** What protects, when it acts, and the fuse. */
export function protectorControls({ line, range, choice }: OpenedLine): Group {
  const acts = (now: LineNow): boolean => has(now, ["crowbar"]) || has(now, ["series switch"]);
  const protector = choice({
    label: "What protects the radio",
    as: "menu",
    options: protectorOptions(protectorMemory(line)),
    current: (now) => protectorOf(now)?.value ?? null,
    help: (now) => protectorOf(now)?.what ?? "A mixture of its own.",
    otherwise: "several, as in the file",
  });
  const trip = range({
    label: "Trip voltage",
    path: tripPath,
    dimension: "voltage",
    min: 14.2,
    max: 18,
    step: 0.05,
  });
  const off = range({
    label: "The contact opens above",
    path: ["series switch", "off voltage"],
    dimension: "voltage",
    min: 14.2,
    max: 18,
    step: 0.05,
  });
  const filter = choice({
    label: "Sense filter",
    as: "menu",
    options: (now) => filters.map(([value, label]) => ({ value, label, changes: [[filterPath(now), value]] })),
    current: (now) => wordAt(now, filterPath(now)) ?? "fast",
    help: (now) => sourceOf(now, filterPath(now)),
  });
  const scr = choice({
    label: "SCR",
    as: "menu",
    options: partNames("crowbar").map((name) => ({ value: name, label: name, changes: [[["crowbar", "part"], name]] })),
    current: (now) => wordAt(now, ["crowbar", "part"]),
    help: (now) => sourceOf(now, ["crowbar", "part"]),
  });
  return {
    title: "The protector",
    controls: [
      protector,
      shownWhere(line, trip, acts),
      shownWhere(line, off, (now) => has(now, ["crowbar"]) && has(now, ["series switch"])),
      shownWhere(line, filter, acts),
      shownWhere(line, scr, (now) => has(now, ["crowbar"])),
      fuseChoice(choice),
    ],
  };
}

/** `cartridge fuse 5x20 2 A, fast` as its family and what tells it from its kin. */
function familyOf(name: string): readonly [family: string, rest: string] {
  const [, family, rest] = /^(.*?fuse(?: \d[\d.]*x\d+)?) (.*)$/s.exec(name) ?? [name, name, name];
  return [family, rest];
}

function fuseChoice(choice: OpenedLine["choice"]): HTMLElement {
  const path: Path = ["main fuse"];
  const offered: LineOption[] = partNames("fuse").map((name) => {
    const [group, label] = familyOf(name);
    return { value: name, label: `${group} ${label}`, group: `${group}s`, changes: [[path, name]] };
  });
  return choice({
    label: "Main fuse",
    as: "menu",
    options: [{ value: "none", label: "none", changes: [[path, null]] }, ...offered],
    current: (now) => {
      const written = writtenAt(now, path);
      return has(now, path) ? (typeof written === "string" ? wordAt(now, ["main fuse", "part"]) : null) : "none";
    },
    help: (now) => sourceOf(now, ["main fuse", "part"]),
    otherwise: "with values of its own",
  });
}

/** Conductors on sale, m². */
const AREAS = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25].map((squareMillimetres) => squareMillimetres * 1e-6);

/** How long and how thick the leads are, and what smooths the protected side. */
export function wiringControls({ line, range }: OpenedLine): Group {
  const lead = (name: string, at: (...steps: Path) => (now: LineNow) => Path) => {
    const length = range({
      label: `${name} lead, one way`,
      path: at("lead", "length"),
      dimension: "length",
      min: 0.2,
      max: 20,
    });
    const area = range({
      label: `${name} lead, cross-section`,
      path: at("lead", "area"),
      dimension: "area",
      min: AREAS[0],
      max: AREAS[AREAS.length - 1],
      steps: AREAS,
    });
    const gauge = range({
      label: `${name} lead, gauge`,
      path: at("lead", "gauge"),
      dimension: "gauge",
      min: 4,
      max: 20,
      step: 1,
      help: "The larger the number, the thinner the wire.",
    });
    const byGauge = (now: LineNow): boolean => has(now, at("lead", "gauge")(now));
    return [length, shownWhere(line, area, (now) => !byGauge(now)), shownWhere(line, gauge, byGauge)];
  };
  const smoothing = range({
    label: "Capacitance beside the protector",
    path: ["nodes", "protected side", "capacitance"],
    dimension: "capacitance",
    min: 1e-7,
    max: 1e-2,
  });
  return {
    title: "The wiring",
    controls: [
      ...lead("Supply's", ofFaulty),
      ...lead("Radio's", (...steps) => () => ["loads", 0, ...steps]),
      smoothing,
    ],
  };
}

const curves: readonly (readonly [value: string, label: string])[] = [
  ["strict", "nothing above its window"],
  ["parts rated 16 V", "as parts rated 16 V"],
  ["vehicle", "as vehicle equipment"],
];

/** Which radio hangs on the line, what it draws and what it stands. */
export function radioControls({ line, range, choice }: OpenedLine): Group {
  const lamps = new Set(parts.filter(({ values }) => values.kind?.value === "lamp").map(({ name }) => name));
  const radio = choice({
    label: "Radio",
    as: "menu",
    options: partNames("load")
      .filter((name) => !lamps.has(name))
      .map((name) => ({ value: name, label: name, changes: [[["loads", 0, "part"], name]] })),
    current: (now) => wordAt(now, ["loads", 0, "part"]),
    help: (now) => sourceOf(now, ["loads", 0, "part"]),
  });
  const current = range({
    label: "It draws",
    path: ["loads", 0, "current"],
    dimension: "current",
    min: 0.1,
    max: 25,
    help: "The less it draws, the higher the voltage goes.",
  });
  const input = range({
    label: "Its input capacitance",
    path: ["loads", 0, "input capacitance"],
    dimension: "capacitance",
    min: 1e-5,
    max: 2e-2,
  });
  const limits: Path = ["loads", 0, "limits"];
  const stands = choice({
    label: "What it stands",
    as: "menu",
    options: curves.map(([value, label]) => ({ value, label, changes: [[[...limits, "withstand"], value]] })),
    current: (now) => wordAt(now, [...limits, "withstand"]),
    help: (now) => {
      const load = now.parsed.scenario?.loads[0];
      const window =
        load &&
        `Window ${formatQuantity(load.limits.minimum, "voltage")} to ${formatQuantity(load.limits.maximum, "voltage")}. `;
      return `${window ?? ""}${sourceOf(now, [...limits, "withstand"])}`;
    },
  });
  return {
    title: "The radio",
    controls: [
      radio,
      shownWhere(line, current, (now) => now.parsed.scenario?.loads[0]?.kind !== "lamp"),
      input,
      stands,
    ],
  };
}
