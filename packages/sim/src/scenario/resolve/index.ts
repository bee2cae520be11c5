import type { Issue } from "../../issue/issue.ts";
import { checkErrors } from "../check/errors.ts";
import { checkUsual } from "../check/usual.ts";
import { checkWarnings } from "../check/warnings.ts";
import { FitMemory } from "../fit-memory.ts";
import type { Path } from "../keys.ts";
import { checkSchema, type ScenarioValues } from "../schema/check.ts";
import type { ScenarioText } from "../schema/scenario.ts";
import { Section } from "../section.ts";
import { type FittedFuse, type Locate, type Origin, Sheet } from "../sheet.ts";
import { spreadsOf } from "../spread/index.ts";
import type { Spread } from "../spread/types.ts";
import { inTextOrder } from "../text/order.ts";
import type { Load, NodeCapacitor, Scenario, Source } from "../types.ts";
import { checkVariants, withoutTakenOut } from "../variants/check.ts";
import { resolveCrowbar } from "./crowbar.ts";
import { freeze } from "./freeze.ts";
import { resolveFuse } from "./fuse.ts";
import { type LineFacts, resolveLoad } from "./load.ts";
import { resolveClamp, resolveSeriesSwitch } from "./protectors.ts";
import { openSource, resolveSource } from "./source.ts";

/** What became of an input. */
export interface ScenarioResult {
  /** Complete and frozen; null where there is at least one error. */
  readonly scenario: Scenario | null;
  /** Errors and warnings, in the order of the text. */
  readonly issues: readonly Issue[];
  /** Every value that the user did not write, with its source. */
  readonly origins: readonly Origin[];
  /** Title and question as the file has them; empty where it has none. */
  readonly about: { readonly title: string; readonly question: string };
  /** How well the thermal model of each fitted fuse meets its published points. */
  readonly fits: readonly FittedFuse[];
  /** The input as it was written, as plain data: maps, lists and texts. */
  readonly written: unknown;
  /** Values that are not known exactly, from `tolerances`; a run takes no notice of them. */
  readonly spreads: readonly Spread[];
  /** Numbers that part classes and defaults gave, by path, exactly; origins tell them rounded. */
  readonly amounts: ReadonlyMap<string, number>;
}

/**
 * Turns what a user writes into the complete scenario: part classes looked up, defaults filled in, SI units.
 *
 * @param text keys as in a file, quantities as text with their unit; anything else is reported
 * @param locate finds the place of a path, where the input was a text
 * @param memory of earlier readings, to save work
 * @returns the scenario, or null with every problem found
 *
 * @example
 * const sources = [{ name: "bench supply", part: "linear supply 20 A", fault: "none" as const }];
 * const loads = [{ name: "relay radio", part: "100 W radio" }];
 * resolveScenario({ "run for": "1 s", "fault at": "1 ms", sources, loads }).issues.length
 */
export function resolveScenario(
  text: ScenarioText,
  locate: Locate = () => ({ position: null, received: null }),
  memory: FitMemory = new FitMemory(),
): ScenarioResult {
  const sheet = new Sheet(locate, memory);
  const values = checkSchema(withoutTakenOut(text), sheet);
  const scenario = assemble(sheet, values);
  checkErrors(sheet, scenario);
  checkVariants(sheet, text);
  checkWarnings(sheet, scenario, text);
  checkUsual(sheet, values, scenario);
  const spreads = spreadsOf(sheet, text, values.tolerances ?? {}, scenario.ambient);
  return {
    scenario: sheet.hasErrors ? null : freeze(scenario),
    issues: inTextOrder(sheet.issues),
    origins: sheet.origins,
    about: { title: values.title ?? "", question: values.question ?? "" },
    fits: sheet.fits,
    written: text,
    spreads,
    amounts: sheet.amounts,
  };
}

function assemble(sheet: Sheet, values: ScenarioValues): Scenario {
  const about = {
    noun: "the scenario",
    table: "scenario",
    part: null,
    unknownPart: false,
    kinds: [],
    prefix: "",
  } as const;
  const root = new Section(sheet, [], values, about);
  const ambient = root.number("ambient", "temperature");
  const faultTime = root.number("faultTime", "time");
  const endTime = root.number("endTime", "time");
  const start = root.word("start", ["operating", "dead"] as const) ?? "operating";
  const written = entries(sheet, values.sources, "sources", "source");
  const opened = written.map(({ path, value, name }) => ({ name, ...openSource(sheet, path, value, name) }));
  const line: LineFacts = { ambient, endTime, startsDead: start === "dead", setVoltage: firstSetVoltage(opened) };
  const sources = opened.map((source): Source => resolveSource(source, source.name, line));
  const loads = entries(sheet, values.loads, "loads", "load").map(
    ({ path, value, name }): Load => resolveLoad(sheet, path, value, name, line),
  );
  const part = <T>(key: keyof ScenarioValues, resolve: (path: Path, value: unknown) => T): T | null => {
    const value = values[key];
    return value === undefined || value === "none" ? null : resolve([key], value);
  };
  return {
    title: values.title ?? "",
    ambient,
    faultTime,
    endTime,
    start,
    nodes: nodesOf(root),
    sources,
    loads,
    mainFuse: part("main fuse", (path, value) => resolveFuse(sheet, path, value, "main fuse", true)),
    crowbar: part("crowbar", (path, value) => resolveCrowbar(sheet, path, value, "crowbar")),
    clamp: part("clamp", (path, value) => resolveClamp(sheet, path, value, "clamp")),
    seriesSwitch: part("series switch", (path, value) => resolveSeriesSwitch(sheet, path, value)),
  };
}

/** The set voltage of the first supply, from the file or its class, before anything else of it is resolved. */
function firstSetVoltage(opened: readonly ReturnType<typeof openSource>[]): number | null {
  const first = opened.find(({ kind }) => kind === "supply" || kind === "charger");
  const value = first?.section.written["set voltage"] ?? first?.section.sources.part?.values.setVoltage?.value;
  return typeof value === "number" ? value : null;
}

function nodesOf(root: Section): Scenario["nodes"] {
  const nodes = root.child("nodes", true);
  const node = (field: string): NodeCapacitor => {
    const section = nodes?.child(field, true) ?? null;
    return {
      capacitance: section?.number("capacitance", "capacitance") ?? Number.NaN,
      resistance: section?.number("resistance", "resistance") ?? Number.NaN,
    };
  };
  return { supplySide: node("supplySide"), protectedSide: node("protectedSide"), radioSide: node("radioSide") };
}

interface Entry {
  readonly path: Path;
  readonly value: unknown;
  readonly name: string;
}

/** Sources or loads with their names, which must be there and differ. */
function entries(
  sheet: Sheet,
  list: readonly { readonly name?: string | undefined }[] | undefined,
  key: string,
  what: string,
): Entry[] {
  if (list === undefined) {
    if (!sheet.isSpoilt([key])) {
      sheet.error("missing", [key], `There is no ${what}: a line needs at least one.`, {
        received: null,
        allowed: `a list of ${key}`,
        hint: `write \`${key}:\` and one entry with \`- name: …\``,
      });
    }
    return [];
  }
  return list.map((value, index) => {
    const path = [key, index];
    const { name } = value;
    if (name === undefined && !sheet.isSpoilt(path) && !sheet.isSpoilt([...path, "name"])) {
      sheet.error("missing", [...path, "name"], `This ${what} needs a name: the verdict speaks of it.`, {
        received: null,
        allowed: "text",
        hint: "write `name: …`",
      });
    }
    return { path, value, name: name ?? `${what} ${index + 1}` };
  });
}
