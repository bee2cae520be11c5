import { asValue, describeValue, findPart } from "@railfault/sim";
import type { Path } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";

/** What stands in a line's file at a path, as plain data; undefined where nothing stands. */
export function writtenAt(now: LineNow, path: Path): unknown {
  return path.reduce<unknown>(
    (value, step) =>
      typeof value === "object" && value !== null && Object.hasOwn(value, step)
        ? (value as Readonly<Record<string | number, unknown>>)[step]
        : undefined,
    now.parsed.written,
  );
}

/** Whether a line's file has a part at a path; `none` is no part. */
export function has(now: LineNow, path: Path): boolean {
  const written = writtenAt(now, path);
  return written !== undefined && written !== "none";
}

/** Plain data as the text of a file, on one line. */
export function asText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(asText).join(", ")}]`;
  if (typeof value !== "object" || value === null) return asValue(String(value));
  const entries = Object.entries(value).map(([key, inner]) => `${asValue(key)}: ${asText(inner)}`);
  return `{${entries.join(", ")}}`;
}

/** A word or name of the line, written or not: the limit's style, a part class. */
export function wordAt(now: LineNow, path: Path): string | null {
  const value = describeValue(now.parsed, path)?.value;
  return typeof value === "string" ? value : null;
}

/** Where a value of the line comes from, as part of a sentence. */
export function sourceOf(now: LineNow, path: Path): string {
  const described = describeValue(now.parsed, path);
  if (described === null) return "";
  const changed = now.state.changes.some(([at]) => at.every((step, i) => step === path[i]));
  if (changed) return "Changed here.";
  if (described.origin === "file") return "From the line's file.";
  return `From ${described.partClass ?? "the default"}: ${described.source} (${described.mark}).`;
}

/** The source whose fault is looked at: the first that fails, else the first supply, else the first. */
export function faultySource(now: LineNow): number {
  const written = writtenAt(now, ["sources"]);
  const count = Array.isArray(written) ? written.length : 0;
  const indices = Array.from({ length: count }, (_, index) => index);
  const fails = indices.find((index) => {
    const kind = wordAt(now, ["sources", index, "fault", "kind"]);
    return kind !== null && kind !== "none";
  });
  return fails ?? indices.find((index) => sourceKind(now, index) === "supply") ?? 0;
}

/** What a source is; chargers count as supplies. */
export function sourceKind(now: LineNow, index: number): "supply" | "battery" | "panel" | null {
  const kind = wordAt(now, ["sources", index, "kind"]);
  const part = wordAt(now, ["sources", index, "part"]) ?? "";
  if (kind === "battery" || kind === "panel") return kind;
  if (kind !== null || findPart("supply", part) !== null || findPart("charger", part) !== null) return "supply";
  return findPart("battery", part) === null ? (findPart("panel", part) === null ? null : "panel") : "battery";
}

/** A path below the source whose fault is looked at. */
export function ofFaulty(...steps: Path): (now: LineNow) => Path {
  return (now) => ["sources", faultySource(now), ...steps];
}
