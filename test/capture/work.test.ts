import { afterEach, expect, test, vi } from "vitest";
import { CellReader } from "../../packages/sim/src/capture/read/cells.ts";
import { read } from "./read.ts";

afterEach(() => {
  vi.restoreAllMocks();
});

/** Rows that were read cell by cell, and all that were read. */
function worked(text: string): { cellByCell: number; rows: number } {
  const spy = vi.spyOn(CellReader.prototype, "read");
  const rows = read(text, { piece: 10_000 }).capture?.time.length ?? 0;
  return { cellByCell: spy.mock.calls.length, rows };
}

const lines = (count: number, quoted: (k: number) => boolean): string =>
  `t,U\r\n${Array.from({ length: count }, (_, k) => `${k},${quoted(k) ? `"${k % 7}"` : k % 7}\r\n`).join("")}`;

test("plain lines are not read cell by cell", () => {
  expect(worked(lines(50_000, () => false))).toEqual({ cellByCell: 0, rows: 50_000 });
});

test("a quoted cell sends a few hundred lines there, not the file", () => {
  const { cellByCell, rows } = worked(lines(50_000, (k) => k === 30_000));
  expect(rows).toBe(50_000);
  expect(cellByCell).toBeGreaterThan(0);
  expect(cellByCell).toBeLessThan(200);
});
