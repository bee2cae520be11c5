import type { Issue } from "../../issue/issue.ts";
import {
  AS_IT_STANDS,
  type FitMemory,
  flowText,
  identity,
  isSchemeWord,
  nameOf,
  PART_NOT_THERE,
  parseScenario,
  placeIssues,
  SCHEME_ABOUT,
  SCHEME_WORDS,
  type ScenarioResult,
  type SchemeWord,
  type VariantLine,
  variantLines,
  variantText,
  writtenVariants,
} from "../../scenario/index.ts";
import { nearest } from "../../units/index.ts";
import type { CompareEntry, ComparePlan, CompareRefused, LeftOut } from "./types.ts";

/** Which lines a comparison holds. */
export interface PlanOptions {
  /**
   * Which lines take part beside the line as it stands: names of variants in the file and words of ready-made schemes. Left out: the variants of
   * the file, or all ready-made schemes where it has none.
   */
  readonly schemes?: readonly string[];
  /** Whether variants of the file that are no line (other than for want of a part, which never counts as wrong), or come to one that takes part already, are left out with the reason (default: refused). */
  readonly leaveOut?: boolean;
  /** Of earlier readings, where one file is read again and again with small changes. */
  readonly memory?: FitMemory;
}

/**
 * Decides which lines a comparison runs: reads the file with its variants, looks up ready-made schemes, and leaves out those that come to a line
 * that takes part already or cannot be built on this one, each with the reason.
 *
 * @param text of a scenario file
 * @param file its name, for the places in messages
 * @param options which schemes
 * @returns the lines, that as it stands first; or every problem of the file, of its variants and of the names asked for; never throws on bad
 *   input
 * @example const plan = comparePlan(text, "hut.yaml", { schemes: ["nothing", "relay"] });
 */
export function comparePlan(text: string, file: string, options: PlanOptions = {}): ComparePlan | CompareRefused {
  const memory = options.memory === undefined ? {} : { memory: options.memory };
  const base = parseScenario(text, file, options.memory);
  const ofFile = writtenVariants(base.written).map(nameOf);
  const wanted = options.schemes ?? null;
  const names = wanted ?? (ofFile.length > 0 ? ofFile.filter((name) => name !== null) : SCHEME_WORDS);
  const words = names.filter((name): name is SchemeWord => !ofFile.includes(name) && isSchemeWord(name));
  const { variants, schemes, issues } = variantLines(text, file, { ...memory, base, schemes: words });
  // What is made for another kind of line is no mistake of the file.
  const told = issues.filter(
    ({ severity, path, code }) =>
      severity !== "error" || !(code === PART_NOT_THERE || (options.leaveOut === true && isOfVariant(path))),
  );
  const unknown = wanted === null ? [] : unknownNames(wanted, ofFile);
  // A value of a variant that cannot be read leaves the whole file unread.
  const problems = [...(base.scenario === null ? issues : told), ...unknown];
  if (base.scenario === null || problems.some(({ severity }) => severity === "error"))
    return { kind: "refused", issues: problems };
  const chosen = names.flatMap((name) => [...variants, ...schemes].find((line) => line.name === name) ?? []);
  const { entries, leftOut } = without(base, identity(base.scenario), chosen, text, file);
  return { kind: "planned", title: base.about.title, entries, leftOut, issues: problems };
}

const isOfVariant = (path: string): boolean => path.startsWith("variants[");

function unknownNames(wanted: readonly string[], ofFile: readonly (string | null)[]): readonly Issue[] {
  const known = [...ofFile.filter((name) => name !== null), ...SCHEME_WORDS];
  const issue = (code: string, name: string, message: string): Issue => {
    const near = nearest(name, known);
    const hint = near === null || near === name ? null : `did you mean \`${near}\`?`;
    const common = { severity: "error", path: "", position: null } as const;
    return { ...common, code, message, received: name, allowed: known.join(" | "), hint };
  };
  const none =
    wanted.length === 0 ? [issue("no-schemes", "", "No scheme was named, so there is nothing to compare with.")] : [];
  return [
    ...none,
    ...wanted.flatMap((name, index) => {
      if (!known.includes(name)) return [issue("unknown-scheme", name, `There is no scheme or variant \`${name}\`.`)];
      return wanted.indexOf(name) < index ? [issue("named-twice", name, `\`${name}\` was named twice.`)] : [];
    }),
  ];
}

/** The lines that differ, and those that do not take part with the reason. */
function without(base: ScenarioResult, own: string, chosen: readonly VariantLine[], text: string, file: string) {
  const seen = new Map([[own, AS_IT_STANDS]]);
  const leftOut: LeftOut[] = [];
  const entries: CompareEntry[] = [];
  let same: SchemeWord | null = null;
  for (const line of chosen) {
    const { name, parsed } = line;
    if (parsed.scenario === null) {
      const why = parsed.issues.filter(({ severity }) => severity === "error").map(({ message }) => message);
      const said = [...new Set(why)].map((message) => message.replace(`In the variant \`${name}\`: `, ""));
      const needs = parsed.issues.some(({ code }) => code === PART_NOT_THERE);
      leftOut.push({ name, why: `${needs ? "" : "It cannot be built on this line. "}${said.join(" ")}` });
      continue;
    }
    const key = identity(parsed.scenario);
    const twin = seen.get(key);
    if (twin !== undefined) {
      if (key === own && line.scheme !== null) same ??= line.scheme;
      leftOut.push({
        name,
        why:
          twin !== AS_IT_STANDS
            ? `It comes to the same as \`${twin}\`.`
            : line.scheme === null
              ? "It comes to the line as it stands."
              : "The line is this scheme as it stands.",
      });
      continue;
    }
    seen.set(key, name);
    entries.push(entryOf(line, text));
  }
  const first: CompareEntry = {
    name: AS_IT_STANDS,
    about: same === null ? "the line of the file" : SCHEME_ABOUT[same],
    scheme: same,
    isBase: true,
    parsed: base,
    place: (issues) => placeIssues(issues, text, file),
    text: () => flowText(base.written),
    asFile: () => text,
  };
  return { entries: [first, ...entries], leftOut };
}

function entryOf(line: VariantLine, text: string): CompareEntry {
  const { name, about, scheme, parsed, place } = line;
  return {
    name,
    about,
    scheme,
    isBase: false,
    parsed,
    place,
    text: () => flowText(parsed.written),
    asFile: () => variantText(text, line),
  };
}
