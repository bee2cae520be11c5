import type { Issue } from "../../issue/issue.ts";
import type { Collected } from "./collect.ts";
import { joined, type Rows } from "./rows.ts";

/** Names the form of a result; a part is one too. */
export const TOLERANCES_FORMAT = "railfault-tolerances 1";

/** Rows as plain JSON; null for what there is not. */
function rowsData({ first, outcomes, close, peak, trip, share, broken }: Rows) {
  const numbers = (values: Float64Array) => Array.from(values, (value) => (Number.isFinite(value) ? value : null));
  return {
    first,
    outcomes: [...outcomes],
    close: [...close],
    peak_V: numbers(peak),
    trip_s: numbers(trip),
    peak_share: numbers(share),
    broken,
  };
}

/** The runs of a study or a part as plain JSON that `readCollected` takes back, number by number the same. */
export function collectedData({ text, file, options, alone, telling, samples, corners }: Collected) {
  return {
    scenario: { file, text },
    options,
    telling,
    alone: rowsData(alone),
    samples: rowsData(samples),
    corners: rowsData(corners),
  };
}

type RowsData = ReturnType<typeof rowsData>;

function rowsOf(data: RowsData): Rows {
  const numbers = (values: readonly (number | null)[]) => Float64Array.from(values, (value) => value ?? Number.NaN);
  return {
    first: data.first,
    outcomes: Uint8Array.from(data.outcomes),
    close: Uint8Array.from(data.close),
    peak: numbers(data.peak_V),
    trip: numbers(data.trip_s),
    share: numbers(data.peak_share),
    broken: data.broken,
  };
}

/** What was read from a file that holds a result. */
export interface ReadPart {
  readonly name: string;
  readonly version: string;
  readonly collected: Collected;
}

/**
 * Takes a result back from its JSON.
 *
 * @param name of the file, for messages
 * @returns null where the text is no such result
 */
export function readPart(name: string, text: string): ReadPart | null {
  try {
    const data = JSON.parse(text);
    if (data.format !== TOLERANCES_FORMAT || data.status !== "answered") return null;
    const { scenario, options, telling, alone, samples, corners } = data.runs;
    const rows = [alone, samples, corners].map(rowsOf);
    if (rows.some((each) => !isWhole(each)) || typeof scenario.text !== "string") return null;
    const [one, two, three] = rows;
    return {
      name,
      version: String(data.version),
      collected: {
        text: scenario.text,
        file: scenario.file,
        options,
        telling,
        alone: one,
        samples: two,
        corners: three,
      },
    };
  } catch {
    return null;
  }
}

const isWhole = ({ outcomes, close, peak, trip, share }: Rows): boolean =>
  [close, peak, trip, share].every(({ length }) => length === outcomes.length);

/**
 * Parts of one study as the whole: the very same as one machine gives.
 *
 * @param parts in any order
 * @returns the whole, or everything that keeps them from being one
 */
export function mergeParts(parts: readonly ReadPart[]): Collected | readonly Issue[] {
  const [first] = parts;
  if (first === undefined) return [issue("", "There is nothing to merge.", null, "at least one file")];
  const issues = parts.slice(1).flatMap((part) => disagreements(first, part));
  if (issues.length > 0) return issues;
  const { options } = first.collected;
  const { of } = options.part;
  const indices = parts.map(({ collected }) => collected.options.part.index);
  const twice = parts.filter(({ collected }, k) => indices.indexOf(collected.options.part.index) !== k);
  const missing = Array.from({ length: of }, (_, k) => k + 1).filter((index) => !indices.includes(index));
  const gaps = [
    ...twice.map(({ name, collected }) =>
      issue(name, `Part ${collected.options.part.index} of ${of} stands in two files.`, name, "each part once"),
    ),
    ...(missing.length === 0
      ? []
      : [
          issue(
            "",
            `${missing.length === 1 ? "A part is" : `${missing.length} parts are`} missing.`,
            `parts ${indices.toSorted((a, b) => a - b).join(", ")} of ${of}`,
            `all of them; missing: ${missing.slice(0, 20).join(", ")}${missing.length > 20 ? " …" : ""}`,
          ),
        ]),
  ];
  if (gaps.length > 0) return gaps;
  try {
    return {
      ...first.collected,
      options: { ...options, part: { index: 1, of: 1 } },
      samples: joined(parts.map(({ collected }) => collected.samples)),
      corners: joined(parts.map(({ collected }) => collected.corners)),
    };
  } catch (error) {
    return [issue("", "The parts do not follow one another.", (error as Error).message, "files as they were written")];
  }
}

function disagreements(a: ReadPart, b: ReadPart): Issue[] {
  const settings = ({ collected: { options } }: ReadPart) =>
    `${options.samples} samples, seed ${options.seed}, corners of ${options.corners} values, ${options.part.of} parts`;
  const differ = (what: string, left: string, right: string): Issue[] =>
    left === right ? [] : [issue(b.name, `It has another ${what} than ${a.name}.`, right, left)];
  return [
    ...differ("version of the program", a.version, b.version),
    ...differ("study", settings(a), settings(b)),
    ...(a.collected.text === b.collected.text
      ? []
      : [issue(b.name, `It comes from another scenario than ${a.name}.`, b.collected.file, "the same text")]),
    ...(JSON.stringify(rowsData(a.collected.alone)) === JSON.stringify(rowsData(b.collected.alone))
      ? []
      : [issue(b.name, `Its runs of one value at a time differ from those of ${a.name}.`, null, "the same numbers")]),
  ];
}

function issue(path: string, message: string, received: string | null, allowed: string): Issue {
  const hint = null;
  return { severity: "error", code: "parts-do-not-fit", path, message, received, allowed, hint, position: null };
}
