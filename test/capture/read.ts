import { CaptureReader, type CaptureResult, type ReadOptions } from "@railfault/sim";

/** A whole text, or bytes, read at once or in pieces. */
export function read(
  content: string | Uint8Array,
  options: Partial<ReadOptions> & { readonly piece?: number } = {},
): CaptureResult {
  const { piece = content.length, ...rest } = options;
  const reader = new CaptureReader({ file: "test.csv", ...rest });
  for (let at = 0; at < content.length; at += Math.max(1, piece)) reader.push(content.slice(at, at + piece));
  return reader.end();
}

/** Samples of a function of time as a plain table. */
export function table(
  count: number,
  interval: number,
  value: (time: number, index: number) => number,
  digits = 9,
): string {
  const rows = Array.from(
    { length: count },
    (_, k) => `${Number((k * interval).toPrecision(12))},${Number(value(k * interval, k).toPrecision(digits))}`,
  );
  return `time_s,line_V\n${rows.join("\n")}\n`;
}
