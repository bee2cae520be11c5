import { arch, cpus, platform, totalmem } from "node:os";
import type { BrowserTiming } from "./browser.ts";
import type { Tally } from "./faults/tally.ts";
import type { Measured } from "./measure.ts";
import type { Profile } from "./profile.ts";
import type { Studies } from "./studies.ts";

/** Everything that one run of the bench found out. */
export interface Findings {
  readonly date: string;
  readonly machine: string;
  readonly versions: Readonly<Record<string, string>>;
  /** What was asked for and is not there, with the reason. */
  readonly missing: readonly string[];
  /** Cases that nobody asked for. */
  readonly leftOut: readonly string[];
  readonly measured: readonly Measured[];
  readonly faults: { readonly workers: number; readonly cold: Tally; readonly warm: Tally } | null;
  readonly studies: Studies | null;
  readonly profiles: readonly Profile[];
  readonly browser: readonly BrowserTiming[];
}

/** Cores, kind of processor and memory; no name of a machine. */
export function machine(): string {
  const model = cpus()[0]?.model.trim() ?? "unknown processor";
  const gigabytes = Math.round(totalmem() / 2 ** 30);
  return `${cpus().length} cores, ${model}, ${gigabytes} GB, ${platform()} ${arch()}`;
}

type Row = readonly string[];

/** A table with its columns side by side, or as markdown. */
function table(head: Row, rows: readonly Row[], markdown: boolean): string {
  if (markdown) {
    const line = (row: Row) => `| ${row.join(" | ")} |`;
    return [line(head), line(head.map((_, k) => (k < 2 ? "---" : "--:"))), ...rows.map(line)].join("\n");
  }
  const widths = head.map((cell, k) => Math.max(cell.length, ...rows.map((row) => row[k].length)));
  const line = (row: Row) =>
    row.map((cell, k) => (k < 2 ? cell.padEnd(widths[k]) : cell.padStart(widths[k]))).join("  ");
  return [head, ...rows].map((row) => line(row).trimEnd()).join("\n");
}

/** Three digits; nothing where there is no number. */
function show(value: number | null | undefined): string {
  if (value === null || value === undefined) return "–";
  return value >= 1000 ? Math.round(value).toString() : Number(value.toPrecision(3)).toString();
}

const count = (value: number | null | undefined) => (value === null || value === undefined ? "–" : String(value));

function casesTable(measured: readonly Measured[], markdown: boolean): string {
  const head = [
    "case",
    "by",
    "cold ms",
    "warm ms",
    "times",
    "steps",
    "rejected",
    "evaluations",
    "factorizations",
    "events",
    "MB",
    "ratio",
  ];
  const rows = measured.map((each) => {
    const own = measured.find(({ id }) => id === each.id);
    const ratio = own === undefined || own === each ? "1" : show(each.warmMs / own.warmMs);
    const { steps, rejected, evaluations, factorizations, events } = each.work;
    const counts = [steps, rejected, evaluations, factorizations, events].map(count);
    const memory =
      each.addedMegabytes === null
        ? show(each.peakMegabytes)
        : `${show(each.peakMegabytes)} (+${show(each.addedMegabytes)})`;
    const name = own === each ? `${each.id}: ${each.what}` : each.id;
    return [name, each.by, show(each.coldMs), show(each.warmMs), String(each.repeated), ...counts, memory, ratio];
  });
  return table(head, rows, markdown);
}

/** Figures that are ratios within one run, so that a slow or busy machine does not matter. */
function ratios(measured: readonly Measured[]): string[] {
  const own = (id: string) => measured.find((each) => each.id === id && each.by === "Railfault");
  const out: string[] = [];
  const [hour, ten] = [own("d"), own("d10")];
  if (hour && ten) out.push(`An hour of hiccup costs ${show(hour.warmMs / ten.warmMs)} times what ten cycles cost.`);
  const perStep = (each: Measured) => each.warmMs / ((each.work.steps ?? 0) + (each.work.rejected ?? 0));
  const [one, four, sixteen] = [own("f1"), own("f4"), own("f16")];
  if (one && four && sixteen)
    out.push(
      `A step of 16 loads costs ${show(perStep(sixteen) / perStep(four))} times a step of 4 loads, and that ${show(perStep(four) / perStep(one))} times a step of one.`,
    );
  return out;
}

function faultLines({ workers, cold, warm }: NonNullable<Findings["faults"]>): string[] {
  const seconds = (milliseconds: number) => `${show(milliseconds / 1000)} s`;
  const share = (part: number, whole: number) => `${((100 * part) / whole).toFixed(1)} %`;
  const calls = warm.differences.filter(({ closeCall }) => closeCall !== null);
  return [
    `e: ${warm.faults} random faults on ${workers} threads: ${seconds(warm.runMs)} by the clock (${seconds(cold.runMs)} from a cold start), once; reading them ${seconds(warm.readMs)} more.`,
    `   ${share(warm.fired, warm.faults)} fired the protector; ${warm.failed.length} failed; ${warm.finer} were done once more at the tight tolerance.`,
    `   ${warm.steps} steps, ${warm.rejected} rejected, ${warm.evaluations} evaluations, ${warm.factorizations} factorizations, ${warm.events} events.`,
    ...(warm.compared === 0
      ? []
      : [
          `   Against runs at 1e-10: ${share(warm.compared - warm.differences.length, warm.compared)} tell the same events; of ${warm.differences.length} that do not, ${calls.length} were called too close to call.`,
          ...warm.differences.map(
            ({ seed, what, closeCall }) => `   fault ${seed}: ${what}. ${closeCall ?? "No close call was reported."}`,
          ),
        ]),
  ];
}

function studyLines({
  samples,
  workers,
  seconds,
  alone,
  gain,
  peakMegabytes,
  same,
  plane,
  comparison,
}: Studies): string[] {
  return [
    `g: ${samples} samples of a one-second fault on ${workers} threads: ${show(seconds)} s by the clock, at most ${show(peakMegabytes)} MB; ${alone.samples} of them on one thread ${show(alone.seconds)} s, ${workers} threads are ${show(gain)} times as fast.`,
    `   The same numbers on ${same.join(", ")} threads. A what-if plane that looks like 64 × 64: ${plane.simulations} simulations in ${show(plane.seconds)} s${plane.isComplete ? "" : ", not complete"}.`,
    `   ${comparison.variants} variants beside the line as it stands: ${show(1000 * comparison.median)} ms, the first time ${show(1000 * comparison.first)} ms.`,
  ];
}

function browserTable(timings: readonly BrowserTiming[], markdown: boolean): string {
  const head = ["case", "in the browser", "first ms", "median ms", "times", "steps", "events"];
  return table(
    head,
    timings.map(({ id, what, firstMs, medianMs, repeated, steps, events }) => [
      `${id}: ${what}`,
      "worker of the pages",
      show(firstMs),
      show(medianMs),
      String(repeated),
      count(steps),
      count(events),
    ]),
    markdown,
  );
}

function profileLines(profiles: readonly Profile[]): string {
  return profiles
    .map(({ id, samples, shares }) => {
      const list = shares.map(({ where, share }) => `${where} ${(100 * share).toFixed(0)} %`).join(", ");
      return `Where the time of ${id} goes (${samples} samples): ${list}.`;
    })
    .join("\n\n");
}

/** Everything as a person reads it. */
export function report(found: Findings, markdown: boolean): string {
  const versions = Object.entries(found.versions).map(([name, version]) => `${name} ${version}`);
  const parts = [
    `Measured on ${found.date}: ${found.machine}; ${versions.join(", ")}.`,
    ...(found.measured.length > 0 ? [casesTable(found.measured, markdown), ratios(found.measured).join("\n")] : []),
    ...(found.faults
      ? [
          faultLines(found.faults)
            .map((line) => (markdown ? line.trim() : line))
            .join("\n"),
        ]
      : []),
    ...(found.studies
      ? [
          studyLines(found.studies)
            .map((line) => (markdown ? line.trim() : line))
            .join("\n"),
        ]
      : []),
    profileLines(found.profiles),
    ...(found.browser.length > 0 ? [browserTable(found.browser, markdown)] : []),
    ...(found.leftOut.length > 0 ? [`Not measured this time: ${found.leftOut.join(", ")}.`] : []),
    ...found.missing.map((each) => `SKIPPED  ${each}`),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}
