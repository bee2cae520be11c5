import { type Issue, withRemedy } from "../issue/issue.ts";
import type { Finding, Judged, NotJudged, Severity, Verdict } from "../verdict/types.ts";
import { duration } from "../verdict/words.ts";
import { headroomTable } from "./text-table.ts";
import { wrap } from "./text-wrap.ts";

/** How a verdict is printed. */
export interface TextOptions {
  /** Characters a line, 80 unless told; below 50 counts as 50. */
  readonly width?: number;
  /** ANSI colours, off unless asked for. */
  readonly colour?: boolean;
}

type Paint = "red" | "yellow" | "green" | "bold";
const CODES: Readonly<Record<Paint, number>> = { red: 31, yellow: 33, green: 32, bold: 1 };

/** What is told as damage, worst first. */
const HURT: readonly Severity[] = ["beyond", "unknown", "used up"];

interface Pen {
  readonly width: number;
  readonly paint: (text: string, ...how: readonly Paint[]) => string;
}

/**
 * The printed verdict: the answer first, then why, damage, headroom, what to replace or reset, the long run, assumptions, cautions.
 *
 * @example process.stdout.write(renderText(verdict, { width: 100, colour: process.stdout.isTTY }))
 */
export function renderText(verdict: Verdict, options: TextOptions = {}): string {
  const width = Math.max(50, options.width ?? 80);
  const paint: Pen["paint"] = (text, ...how) =>
    options.colour === true ? how.reduce((inner, each) => `\u001b[${CODES[each]}m${inner}\u001b[0m`, text) : text;
  const pen = { width, paint };
  const body = verdict.kind === "verdict" ? judged(verdict, pen) : notJudged(verdict, pen);
  const text = `${[wrap(verdict.title, width), ...body].filter((part) => part !== "").join("\n\n")}\n`;
  // A terminal has one kind of blank; where lines may break is settled by now.
  return text.replaceAll("\u202f", " ");
}

function judged(verdict: Judged, pen: Pen): readonly string[] {
  const rows = [...verdict.loads.flatMap(({ limits }) => limits), ...verdict.findings];
  const hurt = HURT.flatMap((worst) => verdict.findings.filter(({ severity }) => severity === worst));
  const said = verdict.loads.length > 1 ? verdict.loads.map(({ sentence }) => sentence) : [];
  const starved = verdict.loads.flatMap((load) => (load.starved === null ? [] : [load.starved.sentence]));
  return [
    answer(verdict, pen),
    bullets("Every load", said, pen),
    bullets(
      "Too close to call",
      verdict.tooClose.map(({ sentence }) => sentence),
      pen,
    ),
    bullets("Below the minimum", starved, pen),
    bullets("What the protection did", verdict.done, pen),
    events(verdict, pen),
    damage(hurt, verdict.pending.length > 0, pen),
    bullets(
      "Not over yet",
      verdict.pending.map(({ sentence }) => sentence),
      pen,
    ),
    section("Headroom", headroomTable(rows, pen.width).join("\n"), pen),
    bullets(
      "Repeated tripping",
      verdict.tripping.map(({ sentence }) => sentence),
      pen,
    ),
    bullets(
      "In the long run (an estimate: the last cycle going on for ever)",
      verdict.tripping.flatMap(({ longRun, fatigue }) => [...longRun, ...fatigue.map(({ sentence }) => sentence)]),
      pen,
    ),
    bullets("Good to know", verdict.notes, pen),
    numbered("Before the next use, in this order", verdict.replace, pen),
    ...tail(verdict, pen),
  ];
}

function answer(verdict: Judged, pen: Pen): string {
  const colour: Paint =
    verdict.tooClose.length > 0
      ? "yellow"
      : verdict.grade === "beyond"
        ? "red"
        : verdict.grade === "inside" && verdict.stoppedAt === null
          ? "green"
          : "yellow";
  const lines = wrap(verdict.headline, pen.width).split("\n");
  return lines.map((line) => pen.paint(line, colour, "bold")).join("\n");
}

function notJudged(verdict: NotJudged, pen: Pen): readonly string[] {
  const lines = wrap(verdict.headline, pen.width).split("\n");
  return [
    lines.map((line) => pen.paint(line, "red", "bold")).join("\n"),
    bullets(
      "What happened",
      [
        `The run reached ${duration(verdict.timeReached, 4)}. What it found until then is no basis for a verdict: take the radio as unprotected.`,
        ...(verdict.device === null ? [] : [`Responsible: ${verdict.device}.`]),
        `What to try: ${verdict.remedy}`,
      ],
      pen,
    ),
    ...tail(verdict, pen),
  ];
}

function tail(verdict: Verdict, pen: Pen): readonly string[] {
  const assumed = verdict.assumptions.map(
    ({ label, value, source }) => `${label}: ${value}${source === "" ? "" : ` (${source})`}`,
  );
  const { relative, closes } = verdict.energy;
  const balance = `${closes ? "Closes" : "DOES NOT CLOSE"}: ${relative.toExponential(1)} of the energy turned over is unaccounted for.`;
  return [
    bullets("Warnings about the scenario", verdict.warnings.map(warning), pen),
    bullets("Assumed, because nobody gave it", assumed, pen),
    section("Energy balance", wrap(balance, pen.width, "  "), pen),
    bullets("Cautions", verdict.cautions, pen),
  ];
}

function warning(issue: Issue): string {
  const { path, position } = issue;
  const where = position === null ? path : `${position.file}:${position.line}`;
  return `${where === "" ? "" : `${where}: `}${withRemedy(issue)}`;
}

function events({ reasons }: Judged, pen: Pen): string {
  const rows = [
    { at: "at", since: "later by", words: "what happened, and why" },
    ...reasons.map(({ time, sincePrevious, sentence }) => ({
      at: `t = ${duration(time, 4)}`,
      since: `+${duration(sincePrevious)}`,
      words: sentence,
    })),
  ];
  const first = Math.max(...rows.map(({ at }) => at.length));
  const second = Math.max(...rows.map(({ since }) => since.length));
  const lines = rows.map(({ at, since, words }) => {
    const start = `  ${at.padEnd(first)}  ${since.padEnd(second)}  `;
    return wrap(words, pen.width, start, " ".repeat(start.length));
  });
  return reasons.length === 0
    ? section("Why", "  Nothing happened in this run.", pen)
    : section("Why", lines.join("\n"), pen);
}

function damage(hurt: readonly Finding[], goesOn: boolean, pen: Pen): string {
  const nothing = `  Nothing went beyond its rating${goesOn ? " in this run" : ""}.`;
  if (hurt.length === 0) return section("What else was hurt", nothing, pen);
  const lines = hurt.map(({ sentence, severity }) => {
    const colour: Paint = severity === "used up" ? "yellow" : "red";
    const told = wrap(sentence, pen.width, "  - ", "    ").split("\n");
    return told.map((line) => pen.paint(line, colour)).join("\n");
  });
  return section("What else was hurt or may burn", lines.join("\n"), pen);
}

function bullets(heading: string, items: readonly string[], pen: Pen): string {
  if (items.length === 0) return "";
  return section(heading, items.map((item) => wrap(item, pen.width, "  - ", "    ")).join("\n"), pen);
}

function numbered(heading: string, items: readonly string[], pen: Pen): string {
  if (items.length === 0) return "";
  const lines = items.map((item, index) => {
    const start = `  ${String(index + 1).padStart(items.length > 9 ? 2 : 1)}. `;
    return wrap(item, pen.width, start, " ".repeat(start.length));
  });
  return section(heading, lines.join("\n"), pen);
}

function section(heading: string, body: string, pen: Pen): string {
  return `${wrap(heading, pen.width)
    .split("\n")
    .map((line) => pen.paint(line, "bold"))
    .join("\n")}\n${body}`;
}
