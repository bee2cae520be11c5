import { crc32, inflateRawSync } from "node:zlib";

/** Files of a ZIP, read from its own directory and held against its check sums; written from the format's description. */
export function zipEntries(bytes: Buffer): { name: string; content: Buffer; year: number }[] {
  const end = bytes.lastIndexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  const entries = [];
  let at = bytes.readUInt32LE(end + 16);
  for (let count = bytes.readUInt16LE(end + 10); count > 0; count -= 1) {
    if (bytes.readUInt32LE(at) !== 0x02014b50) throw new Error(`No entry at ${at}`);
    const nameLength = bytes.readUInt16LE(at + 28);
    const name = bytes.toString("utf8", at + 46, at + 46 + nameLength);
    const local = bytes.readUInt32LE(at + 42);
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    const packed = bytes.subarray(from, from + bytes.readUInt32LE(at + 20));
    const content = bytes.readUInt16LE(at + 10) === 8 ? inflateRawSync(packed) : packed;
    if (crc32(content) !== bytes.readUInt32LE(at + 16)) throw new Error(`${name} is spoilt`);
    entries.push({ name, content, year: (bytes.readUInt16LE(at + 14) >> 9) + 1980 });
    at += 46 + nameLength + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  return entries;
}
