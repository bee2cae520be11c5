import { InvalidInput } from "../../issue/issue.ts";
import { changeTexts, describeValue, type TextChange } from "../../scenario/index.ts";
import { formatQuantity } from "../../units/index.ts";
import { type Band, findBand, widthOf } from "./band.ts";
import { RESISTORS } from "./resistors.ts";
import type { Bench, Steps } from "./runs.ts";
import { THRESHOLDS } from "./thresholds.ts";
import type { TriedChange, TripSettings } from "./types.ts";

/** A change that may be tried. */
interface Change {
  readonly name: string;
  /** Changes of one group exclude each other. */
  readonly group: string;
  readonly cost: number;
  readonly why: string;
  readonly settings?: Partial<TripSettings>;
  readonly text?: readonly TextChange[];
}

/** The order of costs, cheapest first: what each place stands for. Two changes together cost the sum of their places. */
export const COST_ORDER: readonly { readonly cost: number; readonly what: string }[] = [
  { cost: 1, what: "a setting: turn the supply or the charger down; nothing to buy" },
  { cost: 2, what: "two resistors of another grade up to 1 %, or a smaller capacitor in the sense filter" },
  { cost: 3, what: "a ferrite on the sense leads, a reference of the 1 % grade" },
  { cost: 4, what: "resistors of 0.5 %, a reference of the 0.5 % grade" },
  { cost: 5, what: "resistors of 0.1 %" },
  { cost: 6, what: "another circuit: a shunt reference with its divider, a transistor in place of a relay" },
  { cost: 7, what: "thicker leads, another circuit with a reference of the 0.5 % grade" },
  { cost: 8, what: "a cabinet that keeps the protector from freezing" },
];

const change = (name: string, group: string, cost: number, what: Pick<Change, "settings" | "text">): Change => ({
  name,
  group,
  cost,
  why: COST_ORDER[cost - 1].what,
  ...what,
});

const volts = (value: number): string => formatQuantity(value, "voltage", { digits: 4 });
const TURNED_DOWN = 0.3;

/** Every documented change that this line has room for. */
function possibleChanges(found: Band): Change[] {
  return [
    ...ofVoltages(found),
    ...ofFilter(found),
    ...ofRelay(found),
    ...ofThreshold(found),
    ...ofLeads(found),
    ...(found.settings.coldest < 0
      ? [
          change("protector kept above 0 °C", "temperature", 8, {
            settings: { coldest: 0, hottest: Math.max(1, found.settings.hottest) },
          }),
        ]
      : []),
  ];
}

function ofVoltages({ line, settings }: Band): Change[] {
  const list: Change[] = [];
  const float = line.setVoltage?.value ?? null;
  const charge = settings.chargeVoltage ?? line.charge?.value ?? null;
  const perKelvin = settings.compensation ?? line.compensation?.value ?? 0;
  if (charge !== null && charge > (float ?? 0)) {
    for (const lower of [charge - TURNED_DOWN, float ?? 13.8].filter((value) => value < charge)) {
      list.push(
        change(`battery charged to ${volts(lower)} only`, "charge voltage", 1, { settings: { chargeVoltage: lower } }),
      );
    }
  }
  if (perKelvin > 0 && settings.coldest < 25) {
    if (settings.coldest < 0) {
      const until = (perKelvin * 25) / (25 - settings.coldest);
      list.push(
        change("cold compensation that stops at 0 °C", "compensation", 1, { settings: { compensation: until } }),
      );
    }
    list.push(change("charger without cold compensation", "compensation", 1, { settings: { compensation: 0 } }));
  }
  if (float !== null && charge === null && settings.supplyMaximum === null) {
    const text = line.supplies.map(
      ({ index, setVoltage }): TextChange => [
        ["sources", index, "set voltage"],
        `${Number((setVoltage - TURNED_DOWN).toFixed(6))} V`,
      ],
    );
    list.push(change(`supply turned down to ${volts(float - TURNED_DOWN)}`, "set voltage", 1, { text }));
  }
  return list;
}

const FAST = 10e-6;

function ofFilter({ line: { protector }, settings }: Band): Change[] {
  const faster =
    protector.filter > 1.01 * FAST
      ? [
          change(`sense filter of ${formatQuantity(FAST, "time")}`, "filter", 2, {
            text: [[protector.filterPath, "fast"]],
          }),
        ]
      : [];
  const half = settings.pickup / 2;
  return settings.pickup > 0
    ? [...faster, change(`pick-up halved to ${volts(half)}`, "pick-up", 3, { settings: { pickup: half } })]
    : faster;
}

function ofRelay({ line: { scenario, protector } }: Band): Change[] {
  if (protector.kind !== "series switch" || scenario.seriesSwitch?.kind !== "relay") return [];
  const own = ["kind", "resistance", "opening time", "arc voltage", "extinction time", "ratings"];
  const text: TextChange[] = [
    ...own.map((key): TextChange => [["series switch", key], null]),
    [["series switch", "part"], "series transistor 30 A"],
  ];
  return [change("series transistor in place of the relay", "switch", 6, { text })];
}

/** By their place in the order of costs. */
const RESISTOR_COST: Readonly<Record<string, number>> = { "2 %": 2, "1 %": 2, "0.5 %": 4, "0.1 %": 5 };
const REFERENCE_COST: Readonly<Record<string, number>> = { "shunt reference 1 %": 3, "shunt reference 0.5 %": 4 };

function ofThreshold({ device, settings }: Band): Change[] {
  if (device.kind === "zener" || !device.name.startsWith("shunt")) {
    const better = (["shunt reference 1 %", "shunt reference 0.5 %"] as const).map((threshold, order) =>
      change(`${threshold} with resistors of 1 %`, "threshold", 6 + order, {
        settings: { threshold, resistors: "1 %" },
      }),
    );
    return [...better, ...(device.kind === "zener" ? [] : finerResistors(settings.resistors))];
  }
  const finer = THRESHOLDS.slice(THRESHOLDS.indexOf(device) + 1).map(({ name }) =>
    change(name, "threshold", REFERENCE_COST[name], { settings: { threshold: name } }),
  );
  return [...finerResistors(settings.resistors), ...finer];
}

function finerResistors(present: string): Change[] {
  const from = RESISTORS.findIndex(({ name }) => name === present) + 1;
  return RESISTORS.slice(from).map(({ name }) =>
    change(`resistors of ${name}`, "resistors", RESISTOR_COST[name], { settings: { resistors: name } }),
  );
}

/** Copper on sale, mm². */
const AREAS = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50];

function ofLeads({ line: { parsed, scenario } }: Band): Change[] {
  const thicker = (list: "sources" | "loads"): TextChange[] =>
    scenario[list].flatMap(({ lead }, index): TextChange[] => {
      const at = [list, index, "lead"] as const;
      if (describeValue(parsed, [...at, "length"]) === null) return [];
      const next = AREAS.find((area) => area > 1.05e6 * lead.copperArea);
      if (next === undefined) return [];
      return [
        [[...at, "gauge"], null],
        [[...at, "area"], `${next} mm2`],
      ];
    });
  const [sources, loads] = [thicker("sources"), thicker("loads")];
  return [
    ...(sources.length > 0 ? [change("sources' leads one size thicker", "source leads", 7, { text: sources })] : []),
    ...(loads.length > 0 ? [change("loads' leads one size thicker", "load leads", 7, { text: loads })] : []),
  ];
}

/** Pairs told at the most. */
const PAIRS = 5;
/** Pairs whose gains together fall this much short are not tried, V. */
const SHORT = 0.2;

/**
 * Tries every documented change on a line without a band; where no single one opens it, two at a time.
 *
 * @returns those that open it first, the cheapest of them first; then the others, by what they gain
 */
export function* tryChanges(bench: Bench, text: string, file: string, found: Band): Steps<TriedChange[]> {
  const before = widthOf(found);
  const possible = possibleChanges(found);
  const singles: TriedChange[] = [];
  const hopeful: { readonly each: Change; readonly gain: number }[] = [];
  for (const each of possible) {
    const tried = yield* tryOne(bench, text, file, found.settings, [each], before);
    if (tried === null) continue;
    singles.push(tried);
    if (tried.gain > 0) hopeful.push({ each, gain: tried.gain });
  }
  if (singles.some(({ opens }) => opens)) return singles.sort(order);
  const pairs = hopeful
    .flatMap((a, i) => hopeful.slice(i + 1).map((b) => [a, b] as const))
    // Gains of two add up nearly enough to tell where simulating both would be in vain.
    .filter(([a, b]) => a.each.group !== b.each.group && before + a.gain + b.gain > -SHORT)
    .map((pair) => pair.map(({ each }) => each))
    .sort((a, b) => costOf(a) - costOf(b));
  const opening: TriedChange[] = [];
  for (const pair of pairs) {
    const tried = yield* tryOne(bench, text, file, found.settings, pair, before);
    if (tried?.opens) opening.push(tried);
    if (opening.length === PAIRS) break;
  }
  return [...opening, ...singles].sort(order);
}

const costOf = (changes: readonly Change[]): number => changes.reduce((sum, { cost }) => sum + cost, 0);

const order = (a: TriedChange, b: TriedChange): number =>
  Number(b.opens) - Number(a.opens) || (a.opens ? a.cost - b.cost || b.width - a.width : b.gain - a.gain);

function* tryOne(
  bench: Bench,
  text: string,
  file: string,
  settings: TripSettings,
  changes: readonly Change[],
  before: number,
): Steps<TriedChange | null> {
  let changed: string;
  try {
    changed = changeTexts(
      text,
      changes.flatMap((each) => each.text ?? []),
    );
  } catch (error) {
    if (!(error instanceof InvalidInput)) throw error;
    return null;
  }
  const merged: TripSettings = Object.assign({}, settings, ...changes.map((each) => each.settings));
  const found = yield* findBand(bench, changed, file, merged);
  if (found.kind === "refused") return null;
  const width = widthOf(found);
  const name = changes.map((each) => each.name).join(" and ");
  return {
    name,
    about: found.exists
      ? `opens a window of ${formatQuantity(width, "voltage")} for the nominal trip point`
      : `${formatQuantity(Math.abs(width), "voltage")} are still missing`,
    cost: costOf(changes),
    why: [...new Set(changes.map(({ why }) => why))].join("; "),
    opens: found.exists,
    width,
    gain: width - before,
  };
}
