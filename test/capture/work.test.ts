import papaparse from "papaparse";
import { afterEach, expect, test, vi } from "vitest";
import { read } from "./read.ts";

afterEach(() => {
  vi.restoreAllMocks();
});

/** Characters that went through the CSV parser, and the samples read. */
function parsed(text: string): { characters: number; rows: number } {
  const spy = vi.spyOn(papaparse, "parse");
  const rows = read(text, { piece: 10_000 }).capture?.time.length ?? 0;
  const characters = spy.mock.calls.reduce((sum, [each]) => sum + each.length, 0);
  return { characters, rows };
}

const lines = (count: number, quoted: (k: number) => boolean): string =>
  `t,U\r\n${Array.from({ length: count }, (_, k) => `${k},${quoted(k) ? `"${k % 7}"` : k % 7}\r\n`).join("")}`;

test("plain lines do not pass through the CSV parser, but for those by which the file is recognised", () => {
  const short = parsed(lines(2000, () => false));
  vi.restoreAllMocks();
  const long = parsed(lines(50_000, () => false));
  expect([short.rows, long.rows]).toEqual([2000, 50_000]);
  expect(short.characters).toBeGreaterThan(0);
  expect(long.characters).toBe(short.characters);
});

test("a quoted cell sends a few hundred lines there, not the file", () => {
  const none = parsed(lines(50_000, () => false));
  vi.restoreAllMocks();
  const one = parsed(lines(50_000, (k) => k === 30_000));
  expect(one.rows).toBe(50_000);
  expect(one.characters - none.characters).toBeGreaterThan(5);
  expect(one.characters - none.characters).toBeLessThan(10_000);
});
