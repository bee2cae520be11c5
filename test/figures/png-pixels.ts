import { inflateSync } from "node:zlib";

export interface Pixels {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue, alpha per pixel, row by row. */
  readonly data: Uint8Array;
}

/** Reads an 8-bit RGBA PNG (ISO/IEC 15948, sections 5 and 9) without interlacing. */
export function pixelsOf(file: Uint8Array): Pixels {
  const bytes = Buffer.from(file);
  const width = bytes.readUInt32BE(16);
  const height = bytes.readUInt32BE(20);
  if (bytes[24] !== 8 || bytes[25] !== 6 || bytes[28] !== 0) throw new Error("not an 8-bit RGBA PNG");
  const parts: Buffer[] = [];
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    if (bytes.toString("latin1", at + 4, at + 8) === "IDAT") parts.push(bytes.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  return { width, height, data: unfiltered(inflateSync(Buffer.concat(parts)), width, height) };
}

function unfiltered(raw: Buffer, width: number, height: number): Uint8Array {
  const stride = 4 * width;
  const data = new Uint8Array(stride * height);
  for (let y = 0; y < height; y++) {
    const filter = raw[y * (stride + 1)];
    for (let i = 0; i < stride; i++) {
      const at = y * stride + i;
      const left = i >= 4 ? data[at - 4] : 0;
      const up = y > 0 ? data[at - stride] : 0;
      const corner = i >= 4 && y > 0 ? data[at - stride - 4] : 0;
      const predictions = [0, left, up, (left + up) >> 1, paeth(left, up, corner)];
      data[at] = raw[y * (stride + 1) + 1 + i] + predictions[filter];
    }
  }
  return data;
}

function paeth(left: number, up: number, corner: number): number {
  const estimate = left + up - corner;
  const [a, b, c] = [left, up, corner].map((value) => Math.abs(estimate - value));
  return a <= b && a <= c ? left : b <= c ? up : corner;
}
