import type { Path } from "../keys.ts";
import { CLAMP_ROWS } from "../parts/clamps.ts";
import { parts } from "../parts/index.ts";
import type { SchemeWord } from "../schema/scheme-words.ts";
import { serviceDraws } from "../service.ts";
import type { Scenario, Source } from "../types.ts";
import type { LineChange } from "./change.ts";
import { valueAt } from "./merge.ts";

/** What a ready-made scheme is, in a line. */
export const SCHEME_ABOUT: Readonly<Record<SchemeWord, string>> = {
  nothing: "no protector at all, neither in the line nor in the supply; fuses stay",
  "own OVP": "only the supply's own over-voltage shutdown, at the trip voltage after 20 µs",
  clamp: "a clamp diode across the line, nothing else",
  relay: "a relay contact before the load, opened at the trip voltage",
  "series transistor": "a series transistor before the load, switched off at the trip voltage",
  "SCR without fuse": "an SCR across the line, and no fuse on its way",
  "SCR with fuse": "an SCR across the line, and the main fuse on its way",
  "SCR and clamp": "an SCR across the line with a clamp diode beside it",
  "SCR kept on": "an SCR whose gate stays driven until somebody resets it",
  "SCR with disconnect": "an SCR that fires a relay open as well, half a volt below the relay's own limit",
};

/** Half a volt above the SCR's, so that the SCR is the one that acts; the firing opens the relay anyway. */
const DISCONNECT_ABOVE = 0.5;
const OWN_DELAY = "20 us";
/** Common practice: for hours a fuse carries this much of its rating. */
const LASTING = 0.75;
const USUAL_TRIP = 15;

type Part = "crowbar" | "clamp" | "series switch";

/** The three places of a protector in the line that each scheme fills; the others are emptied. */
const PLACES: Readonly<Record<SchemeWord, readonly Part[]>> = {
  nothing: [],
  "own OVP": [],
  clamp: ["clamp"],
  relay: ["series switch"],
  "series transistor": ["series switch"],
  "SCR without fuse": ["crowbar"],
  "SCR with fuse": ["crowbar"],
  "SCR and clamp": ["crowbar", "clamp"],
  "SCR kept on": ["crowbar"],
  "SCR with disconnect": ["crowbar", "series switch"],
};

/**
 * What turns a line's protection into a ready-made scheme. What the file says of a part that stays is kept, and the voltage at which the
 * line's protector acts goes over to the new one; everything else of the line stays as it is.
 *
 * @param data the line as plain data
 * @param scenario the same line, complete
 * @param from where the scheme is named in the file; null: nowhere
 */
export function schemeChanges(
  word: SchemeWord,
  data: unknown,
  scenario: Scenario,
  from: Path | null,
): readonly LineChange[] {
  const put = (path: Path, value: unknown): LineChange => ({ path, value, from });
  const places = PLACES[word];
  const emptied = (["crowbar", "clamp", "series switch"] as const)
    .filter((key) => !places.includes(key) && valueAt(data, key) !== undefined)
    .map((key) => put([key], "none"));
  const filled = places.flatMap((key): readonly LineChange[] => {
    if (key === "clamp") return scenario.clamp === null ? [put(["clamp"], clampFor(scenario))] : [];
    return key === "crowbar" ? crowbar(word, scenario, put) : seriesSwitch(word, data, scenario, put);
  });
  return [...emptied, ...filled, ...fuses(word, scenario, data, put), ...supplies(word, scenario, put)];
}

type Put = (path: Path, value: unknown) => LineChange;

/**
 * Where the line's protector acts, V: as the file has it; else halfway between the highest voltage of a healthy source and the lowest limit of
 * a load, to a tenth.
 */
function tripVoltage({ crowbar: bar, seriesSwitch: opener, sources, loads }: Scenario): number {
  const own = bar?.tripVoltage ?? opener?.offVoltage;
  if (own !== undefined) return own;
  const healthy = Math.max(...sources.map(healthyVoltage));
  // Of a panel alone nobody knows what its controller holds while it works.
  if (healthy === 0) return USUAL_TRIP;
  const limit = Math.min(...loads.map(({ limits }) => limits.maximum));
  const between = Math.round(5 * (healthy + limit)) / 10;
  return between > healthy && between < limit ? between : USUAL_TRIP;
}

function healthyVoltage(source: Source): number {
  if (source.kind === "supply") return source.setVoltage;
  return source.kind === "battery" ? source.emf : 0;
}

const volts = (value: number): string => `${Number(value.toPrecision(5))} V`;

function crowbar(word: SchemeWord, scenario: Scenario, put: Put) {
  const variant =
    word === "SCR kept on"
      ? "gate kept on until reset"
      : word === "SCR with disconnect"
        ? "crowbar with disconnect"
        : "plain";
  const { crowbar: own } = scenario;
  if (own === null) {
    const usual = { part: "SCR 55 A", "trip voltage": volts(tripVoltage(scenario)), "sense filter": "fast" };
    return [put(["crowbar"], variant === "plain" ? usual : { ...usual, variant })];
  }
  const now = { plain: "plain", held: "gate kept on until reset", latched: "crowbar with disconnect" }[own.variant];
  return now === variant ? [] : [put(["crowbar", "variant"], variant)];
}

function seriesSwitch(word: SchemeWord, data: unknown, scenario: Scenario, put: Put) {
  const kind = word === "series transistor" ? "transistor" : "relay";
  const above = word === "SCR with disconnect" ? DISCONNECT_ABOVE : 0;
  const off = volts(tripVoltage(scenario) + above);
  const own = scenario.seriesSwitch;
  if (own?.kind === kind && valueAt(data, "series switch") !== undefined) {
    // Beside an SCR it waits above it; alone it acts where the SCR did.
    return scenario.crowbar === null && above === 0 ? [] : [put(["series switch", "off voltage"], off)];
  }
  const part = kind === "relay" ? "relay 30 A" : "series transistor 30 A";
  return [put(["series switch"], { part, "off voltage": off })];
}

function fuses(word: SchemeWord, scenario: Scenario, data: unknown, put: Put) {
  if (word === "SCR without fuse")
    return [
      ...(scenario.mainFuse === null ? [] : [put(["main fuse"], "none")]),
      ...scenario.sources.flatMap(({ lead }, k) =>
        lead.fuse === null ? [] : [put(["sources", k, "lead", "fuse"], "none")],
      ),
    ];
  const hasFuse = scenario.mainFuse !== null || scenario.sources.some(({ lead }) => lead.fuse !== null);
  return word !== "SCR with fuse" || hasFuse ? [] : [put(["main fuse"], fuseFor(scenario, data))];
}

/** The smallest blade fuse that carries what the loads draw at their most; the largest one where none does. */
function fuseFor(scenario: Scenario, data: unknown): string {
  const draw = serviceDraws(scenario, data).reduce((sum, { largestCurrent }) => sum + largestCurrent, 0);
  const blades = parts
    .filter(({ kind, name }) => kind === "fuse" && name.startsWith("blade fuse "))
    .map(({ name, values }) => ({ name, rated: Number(values.ratedCurrent?.value) }))
    .sort((a, b) => a.rated - b.rated);
  return (blades.find(({ rated }) => LASTING * rated >= draw) ?? blades[blades.length - 1]).name;
}

/** The lowest clamp diode of which even the most eager specimen does not conduct in normal service. */
function clampFor({ sources }: Scenario): string {
  const healthy = Math.max(...sources.map(healthyVoltage));
  const row = CLAMP_ROWS.find(({ breakdown }) => breakdown.minimum > healthy) ?? CLAMP_ROWS[CLAMP_ROWS.length - 1];
  return row.name;
}

function supplies(word: SchemeWord, scenario: Scenario, put: Put): readonly LineChange[] {
  const own = scenario.sources.flatMap((source, k) => (source.kind === "supply" ? [{ source, k }] : []));
  if (word === "nothing") {
    return [
      ...own.flatMap(({ source, k }) => [
        ...(source.shutdown === null ? [] : [put(["sources", k, "own OVP"], "none")]),
        ...(source.ownCrowbar === null ? [] : [put(["sources", k, "own crowbar"], "none")]),
      ]),
      ...scenario.loads.flatMap(({ clamp }, k) => (clamp === null ? [] : [put(["loads", k, "clamp"], "none")])),
    ];
  }
  if (word !== "own OVP") return [];
  const failing = own.filter(({ source }) => source.fault.kind !== "none");
  return (failing.length > 0 ? failing : own)
    .filter(({ source }) => source.shutdown === null)
    .map(({ k }) => put(["sources", k, "own OVP"], { voltage: volts(tripVoltage(scenario)), delay: OWN_DELAY }));
}
