import type { AddressRules } from "../../../packages/notebooks/src/kept/address.ts";
import type { Change, PageState } from "../../../packages/notebooks/src/kept/state.ts";

/** A seeded source of numbers in [0, 1): mulberry32. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export function pick<T>(random: () => number, from: readonly T[]): T {
  return from[Math.floor(random() * from.length)];
}

const SHIPPED = ["01-shorted-pass-transistor", "02-hiccup-supply", "04-foldback"];
const VIEWS = ["zoom", "time", "compare", "größe"];

export const fallback: PageState = { line: { kind: "shipped", name: SHIPPED[0] }, changes: [], view: { zoom: "all" } };
export const rules: AddressRules = { fallback, shipped: SHIPPED, views: VIEWS };

const PIECES = [..."abcZ09 .~-_+%&=#?/:,@'\"<>[]{}()*!|\\^`$;µΩé漢😀", "main fuse", "15 A", "set", "12"];
const KEYS = [
  "main fuse",
  "sources",
  "lead",
  "v",
  "text",
  "without",
  "12",
  "007",
  "~",
  ".",
  "a.b",
  "set.",
  "µ=&",
  "NaN",
];

function word(random: () => number, most: number, pieces: readonly string[] = PIECES): string {
  return Array.from({ length: Math.floor(random() * (most + 1)) }, () => pick(random, pieces)).join("");
}

/** A state that an address can hold, though perhaps not within the longest address. */
export function randomState(random: () => number): PageState {
  const changes = new Map<string, Change>();
  for (let count = Math.floor(random() ** 4 * 60); count > 0; count -= 1) {
    const path = Array.from({ length: 1 + Math.floor(random() * 12) }, () =>
      random() < 0.3 ? Math.floor(random() * 10000) : random() < 0.5 ? pick(random, KEYS) : `k${word(random, 6)}`,
    );
    changes.set(JSON.stringify(path), [path, random() < 0.2 ? null : word(random, 12, [...PIECES, "\n", "\t"])]);
  }
  const view = VIEWS.filter(() => random() < 0.4).map((key) => [key, word(random, 8)]);
  const name = `n${word(random, 10)}`.normalize("NFC").trim();
  const own = { kind: "own", name, text: word(random, 400, [...PIECES, "\r\n", "\0", "\ufeff", "  "]) } as const;
  return {
    line: random() < 0.5 ? { kind: "shipped", name: pick(random, SHIPPED) } : own,
    changes: [...changes.values()],
    view: Object.fromEntries(view),
  };
}
