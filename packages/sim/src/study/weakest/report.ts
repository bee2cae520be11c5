import { type Cell, csvTable } from "../../report/csv.ts";
import { headroomText } from "../../report/text-table.ts";
import { wrap } from "../../report/text-wrap.ts";
import { capital, duration, show } from "../../verdict/words.ts";
import { ended, heatSinkWords } from "./answer.ts";
import { broken } from "./check.ts";
import { type Fallen, fallenParts, type Pair, pairsOf } from "./groups.ts";
import type { Candidate, Combination, LineFacts, MatchAnswer } from "./types.ts";

/** A heading with what stands below it. */
interface Section {
  readonly title: string;
  readonly items: readonly string[];
}

/** What a line asks of its parts, a sentence each. */
export function factSentences(facts: LineFacts): readonly string[] {
  const { lasting, onShare, dumpI2t, prospective, switchOnI2t, service } = facts;
  const style =
    lasting.style === "pulses"
      ? ` in pulses, up to ${show(onShare, "ratio")} of the time`
      : lasting.style === "ends"
        ? " until the supply shuts itself off"
        : " for good";
  return [
    `In normal service it draws ${show(service.current, "current")} (${service.source}).`,
    `Once the SCR has fired, the sources drive ${show(lasting.current, "current")} through it${style}.`,
    `Charged capacitors dump ${show(dumpI2t.throughFuse, "I2t")} into it through the fuse and ${show(dumpI2t.beside, "I2t")} past it.`,
    `Were the wires themselves shorted, up to ${show(prospective.current, "current")} could flow (${show(prospective.voltage, "voltage")} over the resistance of the way): what the fuse must be able to break.`,
    `Switching on charges the loads' inputs with ${show(switchOnI2t, "I2t")} each time.`,
    `The fuse stands as ${facts.fusePlace}; ambient temperature ${show(facts.ambient, "temperature")}.`,
  ];
}

/** What its full run showed of a sound combination, and what it needs besides, a sentence each. */
export function soundSentences(combination: Combination, others: readonly string[]): readonly string[] {
  const { outcome, heatSink, inductance, drop } = combination;
  if (outcome === null) return [];
  const end = ended(combination);
  const { nearest, letThroughI2t } = outcome;
  return [
    capital(end),
    `The worst load saw ${show(outcome.peakLoadVoltage, "voltage")} at the most; in service ${show(drop, "voltage")} are lost.`,
    `At its first peak, while the capacitors emptied into it, the SCR carried up to ${show(outcome.peakScrCurrent, "current")}; its junction reached ${show(outcome.peakJunction, "temperature")}${letThroughI2t === null ? "" : `; the fuse let ${show(letThroughI2t, "I2t")} through`}.`,
    ...(nearest === null
      ? []
      : [`Nearest limit: ${nearest.subject}, ${nearest.quantity}, ${headroomText(nearest.headroom)}.`]),
    ...(inductance === null ? [] : [`It needs ${show(inductance, "inductance")} in the SCR's branch.`]),
    ...(heatSink === null || outcome.ending === "held on" ? [] : [`Were it held on, the SCR ${outlasts(heatSink)}.`]),
    ...outcome.notes,
    ...(others.length === 0 ? [] : [`Thicker wire keeps the rules too, without a run: ${others.join(", ")}.`]),
  ];
}

/** So many parts that fell out alike are named. */
const FEW = 3;

const outlasts = (heatSink: number): string => {
  const words = heatSinkWords(heatSink);
  return words.startsWith("on ") ? `would stand that ${words}` : "would need no heat sink for that";
};

function fallenItem({ names, yours, sentence }: Fallen): string {
  const [first, ...others] = names;
  const more = others.length <= FEW ? others.map((name) => `, ${name}`).join("") : ` and ${others.length} more`;
  return `${first}${yours ? " (yours)" : ""}${more}: ${sentence}`;
}

function everyItem(candidates: readonly Candidate[]): string[] {
  return candidates.flatMap(({ name, yours, checks }) =>
    broken(checks).map(({ sentence }) => `${name}${yours ? " (yours)" : ""}: ${sentence}`),
  );
}

const pairItems = ({ fuse, scr, best, reason }: Pair): readonly string[] =>
  reason === null
    ? []
    : [`${fuse} + ${scr}${reason.rule === "simulation" ? ` + ${best.wire}` : ""}: ${reason.sentence}`];

/** The combinations that a reader should know: for each fuse and SCR the one that advises itself. */
export function shortList(
  answer: MatchAnswer,
): readonly { readonly combination: Combination; readonly thicker: readonly string[] }[] {
  const pairs = pairsOf(answer);
  const order = answer.sound.map(({ id }) => id);
  return pairs
    .filter(({ sound }) => sound.length > 0)
    .map(({ best, notRun }) => {
      const wires = answer.wires.map(({ name }) => name);
      return { combination: best, thicker: notRun.filter((wire) => wires.indexOf(wire) > wires.indexOf(best.wire)) };
    })
    .sort((a, b) => order.indexOf(a.combination.id) - order.indexOf(b.combination.id));
}

function sections(answer: MatchAnswer, all: boolean): readonly Section[] {
  const pairs = pairsOf(answer);
  const waiting = pairs.filter(({ best, reason }) => reason === null && best.outcome === null);
  const parts = (list: readonly Candidate[]) => (all ? everyItem(list) : fallenParts(list).map(fallenItem));
  const thin = thinWires(answer);
  return [
    { title: "What the line asks", items: factSentences(answer.facts) },
    ...(answer.remedy === null ? [] : [{ title: "What would open it", items: [answer.remedy.sentence] }]),
    { title: "What the supply is able to blow", items: blown(answer) },
    { title: "Why fuses fell out", items: parts(answer.fuses) },
    { title: "Why SCRs fell out", items: parts(answer.scrs) },
    { title: "Why wires fell out", items: thin },
    { title: "Why pairs of fuse and SCR fell out", items: pairs.flatMap(pairItems) },
    {
      title: "Not run",
      items:
        waiting.length === 0
          ? []
          : [
              `${waiting.length === 1 ? "1 pair of fuse and SCR keeps every rule but was" : `${waiting.length} pairs of fuse and SCR keep every rule but were`} not run: ${waiting.map(({ fuse, scr }) => `${fuse} + ${scr}`).join("; ")}.`,
            ],
    },
    {
      title: "Limits",
      items: [
        "The rules are those of data sheets and of the trade; a full run stands behind each sound combination, with typical parts and not with scattered ones.",
        "Part classes stand for a kind of part. Put the numbers of your own data sheets into the file: your parts take part.",
        "Nobody knows the surge curves of a part better than its own data sheet; fuses melt at other times than their typical ones.",
      ],
    },
    { title: "Cautions", items: answer.cautions },
  ].filter(({ items }) => items.length > 0);
}

/** Which fuses the lasting current melts, and how fast, beside the SCR and the wire in the file. */
function blown({ all, facts }: MatchAnswer): string[] {
  const fuses = [...new Set(all.map(({ fuse }) => fuse))];
  return fuses.map((fuse) => {
    const [{ lasting, meltsIn }] = all.filter((each) => each.fuse === fuse).sort((a, b) => a.changed - b.changed);
    const flows = show(lasting, "current");
    if (meltsIn !== null) return `${fuse}: ${flows} melt it in about ${duration(meltsIn, 2)}.`;
    const never = facts.lasting.style === "steady" ? "never melt it" : "do not melt it before the supply stops";
    return `${fuse}: ${flows} ${never}.`;
  });
}

/** Wires that keep the rules with no fuse that is left. */
function thinWires(answer: MatchAnswer): string[] {
  const fuses = new Set(answer.fuses.filter(({ checks }) => broken(checks).length === 0).map(({ name }) => name));
  return answer.wires.flatMap(({ name, yours, checks: alone }) => {
    const [own] = broken(alone);
    if (own !== undefined) return [`${name}${yours ? " (yours)" : ""}: ${own.sentence}`];
    const all = answer.all.filter((each) => each.wire === name && fuses.has(each.fuse));
    const wrong = all.flatMap(({ checks }) => broken(checks).filter(({ rule }) => WIRE_SUBJECTS.has(rule)));
    const kept = all.some(({ checks }) => broken(checks).every(({ rule }) => !WIRE_SUBJECTS.has(rule)));
    const [nearest] = wrong.sort((a, b) => a.shortBy - b.shortBy);
    return kept || nearest === undefined ? [] : [`${name}${yours ? " (yours)" : ""}: ${nearest.sentence}`];
  });
}

const WIRE_SUBJECTS: ReadonlySet<string> = new Set([
  "wire in service",
  "wire behind fuse",
  "short circuit",
  "voltage drop",
]);

/**
 * Why the others fell out, for a page: headings with a sentence for each part or pair; empty ones are left out.
 *
 * @example matchReasons(answer).map(({ title, items }) => `${title}: ${items.length}`)
 */
export function matchReasons(
  answer: MatchAnswer,
): readonly { readonly title: string; readonly items: readonly string[] }[] {
  const wanted = /^(Why|What the supply|Not run)/;
  return sections(answer, false).filter(({ title }) => wanted.test(title));
}

const titleOf = ({ facts }: MatchAnswer): string =>
  facts.title === "" ? "What goes first" : `${facts.title}: what goes first`;

/** How the answer is told: width in characters, and whether every reason of every part is. */
export interface MatchTextOptions {
  /** Characters a line, 80 unless told. */
  readonly width?: number;
  /** Every broken rule of every part, instead of the nearest of each kind. */
  readonly all?: boolean;
}

/**
 * The answer as text: headline, short list, and why the others fell out.
 *
 * @example console.log(matchText(answer))
 */
export function matchText(answer: MatchAnswer, { width = 80, all = false }: MatchTextOptions = {}): string {
  const lines = [titleOf(answer), "", wrap(answer.headline, width)];
  const list = shortList(answer);
  if (list.length > 0) lines.push("", "Sound, each confirmed by a full run");
  for (const [i, { combination, thicker }] of list.entries()) {
    lines.push(wrap(`${i + 1}. ${combination.id}`, width, "  ", "     "));
    lines.push(wrap(soundSentences(combination, thicker).join(" "), width, "     "));
  }
  for (const { title, items } of sections(answer, all)) {
    lines.push("", title, ...items.map((item) => wrap(item, width, "  - ", "    ")));
  }
  return `${lines.join("\n")}\n`;
}

/**
 * The answer as Markdown, with the short list as a table.
 *
 * @example writeFileSync("hut.md", matchMarkdown(answer))
 */
export function matchMarkdown(answer: MatchAnswer, { all = false }: MatchTextOptions = {}): string {
  const list = shortList(answer);
  const head = ["fuse", "SCR", "wire", "how it ends", "junction", "lost in service", "nearest limit", "needs besides"];
  const rows = list.map(({ combination }) => {
    const { outcome, inductance, heatSink } = combination;
    const needs = [
      ...(inductance === null ? [] : [`${show(inductance, "inductance")} in the SCR's branch`]),
      ...(heatSink === null ? [] : [heatSinkWords(heatSink).replace(/^(on|and needs) /, "")]),
    ];
    const end = outcome?.openAfter == null ? (outcome?.ending ?? "") : `open after ${duration(outcome.openAfter)}`;
    const near = outcome?.nearest ?? null;
    return [
      combination.fuse,
      combination.scr,
      combination.wire,
      end,
      outcome === null ? "" : show(outcome.peakJunction, "temperature"),
      show(combination.drop, "voltage"),
      near === null ? "–" : `${near.subject}, ${near.quantity} ${headroomText(near.headroom)}`,
      needs.join("; ") || "–",
    ];
  });
  const row = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;
  const table = list.length === 0 ? [] : ["", row(head), row(head.map(() => "---")), ...rows.map(row)];
  const rest = sections(answer, all).flatMap(({ title, items }) => [
    "",
    `## ${title}`,
    "",
    ...items.map((item) => `- ${item}`),
  ]);
  return `${[`# ${titleOf(answer)}`, "", answer.headline, ...table, ...rest].join("\n")}\n`;
}

/**
 * Every combination that was made of parts with a thermal model, as a table: how it came off and its first reason.
 *
 * @returns lines with their CR LF
 */
export function matchCsv(answer: MatchAnswer): Generator<string> {
  const alone = new Map(
    [...answer.fuses, ...answer.scrs, ...answer.wires].map(({ name, checks }) => [name, broken(checks)]),
  );
  const rows = answer.all.map((each): Cell[] => {
    const failed = [each.fuse, each.scr, each.wire]
      .flatMap((name) => alone.get(name) ?? [])
      .concat(broken(each.checks));
    const { outcome } = each;
    const came =
      failed.length > 0 ? "fell by rule" : outcome === null ? "not run" : outcome.sound ? "sound" : "fell in run";
    return [
      each.fuse,
      each.scr,
      each.wire,
      came,
      failed[0]?.rule ?? "",
      failed[0]?.found ?? null,
      failed[0]?.allowed ?? null,
      failed[0]?.sentence ?? outcome?.reasons[0] ?? "",
      each.meltsIn,
      outcome?.ending ?? "",
      outcome?.openAfter ?? null,
      outcome?.letThroughI2t ?? null,
      outcome?.peakLoadVoltage ?? null,
      outcome?.peakScrCurrent ?? null,
      outcome?.peakJunction ?? null,
      each.drop,
      each.heatSink,
      each.inductance,
    ];
  });
  const head =
    "fuse,scr,wire,result,rule,found_SI,allowed_SI,reason,melts_in_s,ending,open_after_s,let_through_A2s,peak_load_V,peak_scr_A,junction_degC,drop_V,heat_sink_K_per_W,inductance_H";
  return csvTable(head.split(","), rows);
}

/** The answer as plain data for JSON: kept rules only of sound combinations, so that it stays small. */
export function matchJson(answer: MatchAnswer): unknown {
  const { all, ...rest } = answer;
  const slim = (each: Combination) => ({ ...each, checks: broken(each.checks) });
  return { format: "railfault match result 1", ...rest, notRun: rest.notRun.map(slim), all: all.map(slim) };
}
