import type { Path } from "../../kept/state.ts";

/** Where in a scenario a place of its text lies. */
export interface TextPlace {
  /** The map in which it lies; its keys may be used there. */
  readonly map: Path;
  /** The key whose name or value it lies in; null between keys. */
  readonly key: string | null;
}

const keyed = /^(?:("[^"]*"|'[^']*')\s*|([^\s#{[\]},"'][^#{[\]},]*?)):(?:\s|$)/;

interface Row {
  /** Columns before the first letter. */
  readonly indent: number;
  /** Columns of the dashes that it begins with, and the column behind them. */
  readonly dashes: readonly number[];
  readonly column: number;
  readonly key: string | null;
  /** Column at which the key's value begins. */
  readonly value: number;
}

function rowOf(line: string): Row | null {
  const indent = line.search(/\S/);
  if (indent < 0 || line[indent] === "#") return null;
  const dashes: number[] = [];
  let column = indent;
  for (let dash = /^-(\s+|$)/.exec(line.slice(column)); dash !== null; dash = /^-(\s+|$)/.exec(line.slice(column))) {
    dashes.push(column);
    column += dash[0].length;
  }
  const found = keyed.exec(line.slice(column));
  const key = found === null ? null : (found[1]?.slice(1, -1) ?? found[2].trimEnd());
  return { indent, column, dashes, key, value: column + (found?.[0].length ?? 0) };
}

/** A map in brackets that goes over more lines than this is not followed up. */
const FAR = 60;

/**
 * Where the cursor stands, by columns and brackets: also in a text with errors, and on a line that is still empty.
 *
 * @param offset of the cursor in the text
 * @example placeAt("crowbar:\n  trip voltage: 15 V\n", 14) // { map: ["crowbar"], key: "trip voltage" }
 */
export function placeAt(text: string, offset: number): TextPlace {
  const lines = text.slice(0, offset).split("\n");
  const at = lines.length - 1;
  const column = lines[at].length;
  lines[at] += text.slice(offset).split("\n", 1)[0];
  const inFlow = flowFrom(lines, at, column);
  if (inFlow !== null) return inFlow;
  const own = rowOf(lines[at]);
  if (own !== null && own.key !== null) return { map: pathAbove(lines, at, own.column), key: own.key };
  return { map: pathAbove(lines, at, own === null ? column : Math.max(own.indent, column)), key: null };
}

/** Keys and places in lists that stand left of a column, from a line upwards; of the line itself only its dashes. */
function pathAbove(lines: readonly string[], at: number, column: number): Path {
  const steps: (string | number)[] = [];
  let limit = column;
  let list: number | null = null;
  for (let index = at; index >= 0 && (limit > 0 || list !== null); index -= 1) {
    const row = rowOf(lines[index]);
    if (row === null) continue;
    // The list's other items stand in its column, and may stand in the column of its key.
    const sibling: boolean = list !== null && row.dashes.includes(list);
    const inColumn = row.column === list && !sibling;
    if (row.key !== null && index < at && (row.column < limit || inColumn)) {
      steps.unshift(row.key);
      limit = row.column;
      list = null;
    }
    for (const dash of row.dashes.toReversed()) {
      if (dash >= limit) continue;
      steps.unshift(itemsBefore(lines, index, dash));
      limit = dash;
      list = dash;
    }
  }
  return steps;
}

/** How many items of the same list stand before this one. */
function itemsBefore(lines: readonly string[], from: number, dash: number): number {
  let count = 0;
  for (let index = from - 1; index >= 0; index -= 1) {
    const row = rowOf(lines[index]);
    if (row === null) continue;
    if (row.dashes.includes(dash)) count += 1;
    else if (row.indent <= dash) break;
  }
  return count;
}

/** Where the cursor stands in a map or list in brackets, which may have begun some lines above; null outside of brackets. */
function flowFrom(lines: readonly string[], at: number, column: number): TextPlace | null {
  for (let index = at; index >= Math.max(0, at - FAR); index -= 1) {
    const row = rowOf(lines[index]);
    if (row === null) continue;
    const value = row.key === null ? row.column : row.value;
    if (/^[{[]/.test(lines[index].slice(value))) {
      // A key's name is read to its end, wherever in it the cursor stands.
      const end = column + (/^[^:,{}[\]]*:?/.exec(lines[at].slice(column))?.[0].length ?? 0);
      const between = [...lines.slice(index, at), lines[at].slice(0, end)].join("\n");
      const flow = flowAt(between.slice(value));
      if (flow === null) return null;
      const outer = row.key === null ? [] : [row.key];
      return { ...flow, map: [...pathAbove(lines, index, row.column), ...outer, ...flow.map] };
    }
    if (row.indent === 0) return null;
  }
  return null;
}

/** Where the end of a value lies within brackets; null outside of them. */
function flowAt(value: string): TextPlace | null {
  const open: { readonly step: string | number | null; list: boolean; index: number }[] = [];
  let key: string | null = null;
  let word = "";
  let quote = "";
  for (const letter of value) {
    if (quote !== "") {
      if (letter === quote) quote = "";
      else word += letter;
    } else if ((letter === '"' || letter === "'") && word.trim() === "") quote = letter;
    else if (letter === "{" || letter === "[") {
      const outer = open.at(-1);
      const step = outer === undefined ? null : outer.list ? outer.index : key;
      open.push({ step, list: letter === "[", index: 0 });
      [key, word] = [null, ""];
    } else if (letter === "}" || letter === "]") {
      const closed = open.pop();
      key = typeof closed?.step === "string" ? closed.step : null;
      word = "";
    } else if (letter === ",") {
      const inner = open.at(-1);
      if (inner?.list) inner.index += 1;
      [key, word] = [null, ""];
    } else if (letter === ":" && key === null) [key, word] = [word.trim(), ""];
    else word += letter;
  }
  const inner = open.at(-1);
  if (inner === undefined) return null;
  const path = open.flatMap(({ step }) => (step === null ? [] : [step]));
  return inner.list ? { map: [...path, inner.index], key: null } : { map: path, key };
}
