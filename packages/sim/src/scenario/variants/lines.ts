import type { Issue } from "../../issue/issue.ts";
import { type Dimension, formatQuantity } from "../../units/index.ts";
import { FitMemory } from "../fit-memory.ts";
import { type Path, pathText } from "../keys.ts";
import { locateIn, parseScenario } from "../parse.ts";
import { placeWith } from "../place.ts";
import { resolveScenario, type ScenarioResult } from "../resolve/index.ts";
import type { ScenarioText } from "../schema/scenario.ts";
import { SCHEME_WORDS, type SchemeWord } from "../schema/scheme-words.ts";
import type { Locate } from "../sheet.ts";
import { inPresentForm } from "../text/form.ts";
import { linesOf } from "../text/lines.ts";
import { inTextOrder } from "../text/order.ts";
import { readText } from "../text/read.ts";
import { isPlainMap } from "../text/written.ts";
import type { Panel, Scenario, SupplyFault } from "../types.ts";
import type { LineChange } from "./change.ts";
import { nameOf, writtenVariants } from "./check.ts";
import { lackingParts } from "./lacking.ts";
import { changesOf, withChanges, writtenWhere } from "./merge.ts";
import { SCHEME_ABOUT, schemeChanges } from "./schemes.ts";
import type { VariantLine, VariantLines } from "./types.ts";

/** Which variants are read, and what is known already. */
export interface VariantOptions {
  /** Ready-made schemes that take part beside those of the file. */
  readonly schemes?: readonly SchemeWord[];
  /** Of earlier readings, where one file is read again and again with small changes. */
  readonly memory?: FitMemory;
  /** The text as it was read already. */
  readonly base?: ScenarioResult;
}

/**
 * Reads a file with all its variants: each becomes a complete scenario of its own that differs from the base line only in what it says.
 *
 * @param text of the file
 * @param file its name, for the places in messages
 * @param options ready-made schemes beside those of the file
 * @returns the base line, the variants and every problem of all of them, also variants that change nothing or say the same as another;
 *   never throws on bad input
 *
 * @example
 * const { base, variants, issues } = variantLines(text, "hut.yaml");
 * if (issues.some(({ severity }) => severity === "error")) console.error(formatIssues(issues));
 */
export function variantLines(text: string, file: string, options: VariantOptions = {}): VariantLines {
  const { schemes = [], memory = new FitMemory() } = options;
  const base = options.base ?? parseScenario(text, file, memory);
  const data = bareLine(base.written);
  const scenario = base.scenario ?? lineAlone(base, data, memory);
  const lines = linesOf(inPresentForm(text), file);
  const { tree } = readText(lines);
  if (scenario === null || tree === null) return { base, variants: [], schemes: [], issues: base.issues };
  const reading: Reading = { base, scenario, data, locate: locateIn(tree, lines), memory };
  const hurt = new Set(base.issues.filter(isError).map(({ path }) => /^variants\[\d+\]/.exec(path)?.[0]));
  const variants = writtenVariants(base.written).map((written, index) => ofFile(reading, written, index));
  const whole = variants.filter(({ path }) => path !== null && !hurt.has(pathText(path)));
  const found = variants.flatMap(({ parsed }) => parsed.issues);
  const issues = inTextOrder([...base.issues, ...found, ...collisions(reading, whole)]);
  const readyMade = schemes.map((word) => ofScheme(reading, word));
  return { base, variants, schemes: readyMade, issues };
}

/** The line where only its variants have errors: then the others are looked at all the same. */
function lineAlone({ issues }: ScenarioResult, data: unknown, memory: FitMemory): Scenario | null {
  if (!issues.filter(isError).every(({ path }) => path.startsWith("variants"))) return null;
  // What stood in the tree came from the user; the schema check inside takes it from here.
  return resolveScenario(data as ScenarioText, undefined, memory).scenario;
}

const isError = ({ severity }: Issue): boolean => severity === "error";

/** Whether a word is that of a ready-made scheme. */
export const isSchemeWord = (word: string): word is SchemeWord => SCHEME_WORDS.some((each) => each === word);

interface Reading {
  readonly base: ScenarioResult;
  readonly scenario: Scenario;
  /** The line as plain data, without what speaks of several lines. */
  readonly data: unknown;
  /** Of the whole file. */
  readonly locate: Locate;
  readonly memory: FitMemory;
}

/** What speaks of the line from outside says nothing of a line that is another one. */
const OUTSIDE = ["variants", "tolerances"];

/** The line as plain data, without what speaks of several lines. */
export function bareLine(written: unknown): unknown {
  return withChanges(
    written,
    OUTSIDE.map((key) => ({ path: [key], value: undefined, from: null })),
  );
}

interface Named {
  readonly name: string;
  readonly about: string;
  readonly scheme: SchemeWord | null;
  readonly path: Path | null;
}

function ofFile(reading: Reading, variant: unknown, index: number): VariantLine {
  const path = ["variants", index];
  const map = isPlainMap(variant) ? variant : {};
  const word = typeof variant === "string" ? variant : map.scheme;
  const scheme = SCHEME_WORDS.find((each) => each === word) ?? null;
  const place = typeof variant === "string" ? path : [...path, "scheme"];
  const ready = scheme === null ? [] : schemeChanges(scheme, reading.data, reading.scenario, place);
  const changes = [...ready, ...changesOf(withChanges(reading.data, ready), variant, path)];
  const about = typeof map.about === "string" ? map.about : scheme === null ? "" : SCHEME_ABOUT[scheme];
  return resolved(reading, { name: nameOf(variant) ?? "", about, scheme, path }, changes);
}

function ofScheme(reading: Reading, word: SchemeWord): VariantLine {
  const changes = schemeChanges(word, reading.data, reading.scenario, null);
  return resolved(reading, { name: word, about: SCHEME_ABOUT[word], scheme: word, path: null }, changes);
}

function resolved(reading: Reading, named: Named, changes: readonly LineChange[]): VariantLine {
  const { base, data, memory } = reading;
  const { name, path } = named;
  const title = base.about.title === "" ? name : `${base.about.title}: ${name}`;
  const locate = locateWith(reading.locate, changes, path);
  // The words of a file, which the schema check inside takes from here.
  const changed = withChanges(data, [...changes, { path: ["title"], value: title, from: path }]) as ScenarioText;
  const told = inVariant(name);
  const parsed = resolveScenario(changed, locate, memory);
  const found = lackingParts(
    parsed.issues.filter((issue) => !isKnown(base.issues, issue)),
    data,
    path,
  );
  const isHurt = path !== null && base.issues.some((issue) => isError(issue) && issue.path.startsWith(pathText(path)));
  // Where its own words are wrong, what follows from them is not told beside.
  const issues = isHurt ? found.filter(isError) : [...found, ...otherFault(reading, named, parsed)];
  const hurt = isHurt || issues.some(isError);
  return {
    ...named,
    changes,
    parsed: { ...parsed, scenario: hurt ? null : parsed.scenario, issues: issues.map(told) },
    place: (found) => placeWith(found, locate).map(told),
  };
}

/** Finds the place of a path of the variant in the file: in the variant, or in the line that it changes. */
function locateWith(inFile: Locate, changes: readonly LineChange[], own: Path | null): Locate {
  return (path, what) => {
    const where = writtenWhere(changes, path) ?? own;
    return where === null ? { position: null, received: null } : { ...inFile(where, what), path: where };
  };
}

const inVariant =
  (name: string) =>
  (issue: Issue): Issue => ({ ...issue, message: `In the variant \`${name}\`: ${issue.message}` });

/** What is said of the base line already is not said again of each variant. */
function isKnown(issues: readonly Issue[], { code, path, message }: Issue): boolean {
  return issues.some((known) => known.code === code && known.path === path && known.message === message);
}

/** Kinds and figures of what fails, by the names of sources. */
function faultsOf({ sources }: Scenario): ReadonlyMap<string, Fault> {
  return new Map(
    sources.flatMap((source) =>
      source.kind === "battery" || source.fault.kind === "none" ? [] : [[source.name, source.fault] as const],
    ),
  );
}

type Fault = SupplyFault | Panel["fault"];

const FIGURES: Readonly<Record<string, readonly [name: string, dimension: Dimension]>> = {
  endVoltage: ["end voltage", "voltage"],
  ceilingVoltage: ["ceiling voltage", "voltage"],
  slew: ["slew", "voltage slew"],
  passResistance: ["pass resistance", "resistance"],
};

/** `lost feedback: ceiling voltage 20 V, slew 1 V/s` */
function faultWords({ kind, ...figures }: Fault): string {
  const told = Object.entries(figures).map(([key, value]) => {
    const [name, dimension] = FIGURES[key];
    return `${name} ${formatQuantity(value, dimension)}`;
  });
  return [kind, told.join(", ")].filter((words) => words !== "").join(": ");
}

/** Variants are compared on one fault: another one would make them two questions. */
function otherFault({ scenario, locate }: Reading, { path }: Named, parsed: ScenarioResult): readonly Issue[] {
  // A ready-made scheme leaves what fails as it is.
  if (parsed.scenario === null || path === null) return [];
  const [before, after] = [faultsOf(scenario), faultsOf(parsed.scenario)];
  const other = [...new Set([...before.keys(), ...after.keys()])].filter(
    (name) => JSON.stringify(before.get(name)) !== JSON.stringify(after.get(name)),
  );
  return other.map((name) => {
    const [was, is] = [before.get(name), after.get(name)];
    const { position } = locate(path, "key");
    const message =
      is === undefined
        ? `The fault of \`${name}\` is not there: all variants meet the same fault.`
        : was === undefined
          ? `\`${name}\` has a fault that the line has not: all variants meet the same fault.`
          : `The fault of \`${name}\` has other figures: all variants meet the same fault.`;
    const hint =
      was === undefined
        ? "write `fault: none` for it"
        : is === undefined
          ? "leave the source that fails in the line"
          : "write the figures of the fault (`slew`, `ceiling voltage`, `pass resistance`) into the line itself, so that no part class decides them";
    return {
      severity: "error",
      code: "other-fault",
      path: pathText(path),
      message,
      received: is === undefined ? null : faultWords(is),
      allowed: was === undefined ? "no fault" : faultWords(was),
      hint,
      position,
    };
  });
}

/** Variants that come to the same line as the base line or as one before them. */
function collisions({ scenario, locate }: Reading, variants: readonly VariantLine[]): readonly Issue[] {
  const seen = new Map([[identity(scenario), "the line as it stands"]]);
  return variants.flatMap(({ name, parsed, scheme, path }): readonly Issue[] => {
    if (parsed.scenario === null || path === null) return [];
    const key = identity(parsed.scenario);
    const twin = seen.get(key);
    if (twin === undefined) {
      seen.set(key, `the variant \`${name}\``);
      return [];
    }
    const isLine = twin === "the line as it stands";
    return [
      {
        severity: "error",
        code: isLine ? "changes-nothing" : "same-variant",
        path: pathText(path),
        message: `The variant \`${name}\` comes to the same as ${twin}.`,
        received: name,
        allowed: "variants that differ in at least one value",
        hint:
          scheme !== null && isLine
            ? "the line is this scheme already; it takes part as it stands"
            : isLine
              ? "the line as it stands takes part in every comparison: delete this variant, or change something"
              : "delete it, or change something else",
        position: locate(path, "key").position,
      },
    ];
  });
}

/** Equal for lines of which every value is equal. */
export function identity(scenario: Scenario): string {
  return JSON.stringify({ ...scenario, title: "" });
}
