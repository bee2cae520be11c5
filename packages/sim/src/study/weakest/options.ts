import { InvalidInput, type Issue } from "../../issue/issue.ts";
import { partNames } from "../../scenario/parts/index.ts";
import type { PartKind } from "../../scenario/parts/types.ts";
import { nearest, parseQuantity } from "../../units/index.ts";
import { gauge, type WireSize } from "./candidates.ts";
import type { MatchOptions } from "./types.ts";

/** Full runs at the most where nobody says otherwise. */
const USUAL_RUNS = 40;
const MOST_RUNS = 1000;

/** Options with names looked up and sizes read. */
export interface ReadOptions {
  readonly load: number | null;
  readonly drop: number | null;
  readonly fuses: readonly string[] | null;
  readonly scrs: readonly string[] | null;
  readonly wires: readonly WireSize[] | null;
  readonly most: number;
}

/**
 * Reads and checks the options of a study; every problem is collected.
 *
 * @throws InvalidInput with all problems: what was received, what is allowed, the nearest known name
 */
export function readOptions(options: MatchOptions): ReadOptions {
  const issues: Issue[] = [];
  const most = options.most ?? USUAL_RUNS;
  if (!(Number.isInteger(most) && most >= 1 && most <= MOST_RUNS))
    issues.push(
      problem("most", "The largest number of full runs is a whole number.", String(most), `1 to ${MOST_RUNS}`),
    );
  amount(issues, "load", options.load, 10_000, "A");
  amount(issues, "drop", options.drop, 100, "V");
  const read: ReadOptions = {
    load: options.load ?? null,
    drop: options.drop ?? null,
    fuses: names(issues, "fuses", "fuse", options.fuses),
    scrs: names(issues, "scrs", "crowbar", options.scrs),
    wires: options.wires === undefined ? null : options.wires.flatMap((text) => size(issues, text)),
    most,
  };
  if (issues.length > 0) throw new InvalidInput(issues);
  return read;
}

function problem(path: string, message: string, received: string, allowed: string, hint: string | null = null): Issue {
  return { severity: "error", code: "bad-option", path, message, received, allowed, hint, position: null };
}

function amount(issues: Issue[], path: string, value: number | undefined, largest: number, unit: string): void {
  if (value === undefined || (value > 0 && value <= largest)) return;
  const message =
    path === "load" ? "The largest current in service is out of range." : "The allowed voltage drop is out of range.";
  issues.push(problem(path, message, `${value} ${unit}`, `more than 0 and up to ${largest} ${unit}`));
}

function names(
  issues: Issue[],
  path: string,
  kind: PartKind,
  wanted: readonly string[] | undefined,
): readonly string[] | null {
  if (wanted === undefined) return null;
  const known = partNames(kind);
  const folded = (name: string): string => name.toLowerCase().replaceAll("×", "x").replace(/\s+/g, "");
  return wanted.flatMap((name) => {
    // A part of a name takes every class that holds it: `blade fuse` or `fast`.
    const exact = known.filter((each) => folded(each) === folded(name));
    const found = exact.length > 0 ? exact : known.filter((each) => folded(each).includes(folded(name)));
    if (found.length > 0 && name.trim() !== "") return found;
    const near = nearest(name, known);
    const what = kind === "fuse" ? "fuse" : "SCR";
    issues.push(
      problem(
        path,
        `There is no ${what} class of this name.`,
        name.slice(0, 60),
        `a class, or part of its name; see railfault parts ${kind}`,
        near === null ? null : `did you mean \`${near}\`?`,
      ),
    );
    return [];
  });
}

function size(issues: Issue[], text: string): WireSize[] {
  const area = parseQuantity(text, "area");
  if (area.ok && area.value >= 1e-8 && area.value <= 1e-3)
    return [{ name: `${Number((area.value * 1e6).toPrecision(4))} mm²`, key: "area", value: text, area: area.value }];
  const number = parseQuantity(text, "gauge");
  if (number.ok && number.value >= 0 && number.value <= 30 && Number.isInteger(number.value))
    return [gauge(number.value)];
  issues.push(
    problem(
      "wires",
      "This is no wire size.",
      text.slice(0, 60),
      "0.01 mm2 to 1000 mm2, or 30 AWG to 0 AWG",
      "write `4 mm2` or `12 AWG`",
    ),
  );
  return [];
}
