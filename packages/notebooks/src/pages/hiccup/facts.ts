import { formatQuantity, PULSE_WITHSTAND, type PulseFatigue, type Verdict } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { Answer } from "../../run/protocol.ts";
import { anHour, type Dips, dipsOf, tripsIn } from "./dips.ts";
import { heldHeatTold } from "./held-heat.ts";
import type { Outcome } from "./outcome-types.ts";
import { capital, grouped, roughTime, the, time, whole } from "./words.ts";

const MINUTE = 60;
const percent = (share: number): string => formatQuantity(share, "ratio");

/** What the long run comes to: dips, heat, fuse; each in a place of its own. */
export function factsView(document: Document) {
  const dips = el(document, "div", { class: "facts" });
  const heat = el(document, "div", { class: "facts" });
  const fuse = el(document, "div", { class: "facts" });
  const paragraph = (text: string): HTMLElement => el(document, "p", {}, whole(text));
  return {
    dips,
    heat,
    fuse,
    /** @param enough whether it was followed for long enough to tell what comes later */
    show(answer: Answer, outcome: Outcome, enough = true): void {
      const seen = dipsOf(answer);
      const nothing = paragraph(withoutDips(outcome));
      dips.replaceChildren(...(seen === null ? [nothing] : [dipsTable(document, seen), paragraph(dipsSentence(seen))]));
      heat.replaceChildren(...list(document, heatSentences(answer, enough)));
      const worn = fatigueOf(answer.verdict);
      fuse.replaceChildren(
        ...(worn.length === 0
          ? [paragraph("There is no fuse here that repeated trips could wear out.")]
          : worn.flatMap((each) => [
              paragraph(each.sentence),
              ...(each.applies ? [pulseTable(document, each, seen)] : []),
            ])),
      );
    },
  };
}

function list(document: Document, sentences: readonly string[]): HTMLElement[] {
  if (sentences.length === 0) return [];
  return [el(document, "ul", {}, ...sentences.map((text) => el(document, "li", {}, whole(text))))];
}

/** What is told in place of a table of dips. */
export function withoutDips({ ending, sentence }: Outcome): string {
  return ending === "stopped" ? sentence : `This line does not trip again and again. ${sentence}`;
}

const TOO_SHORT = "The run was stopped too early to estimate from it how hot the SCR and the fuse get in the end.";

/** What the verdict says of the long run, and of an SCR that is held on; no estimate from a run that was ended too early for one. */
export function heatSentences({ run, verdict }: Pick<Answer, "run" | "verdict">, enough: boolean): readonly string[] {
  if (verdict.kind !== "verdict") return [verdict.headline];
  if (!enough) return [TOO_SHORT, ...verdict.notes];
  const held = verdict.pending.filter(({ kind }) => kind === "held on").map(({ sentence }) => sentence);
  const gate = heldHeatTold(run);
  return [
    ...verdict.tripping.flatMap(({ longRun }) => longRun),
    ...held,
    ...(gate === null ? [] : [gate.sentence]),
    ...verdict.notes,
  ];
}

function fatigueOf(verdict: Verdict): readonly PulseFatigue[] {
  return verdict.kind === "verdict" ? verdict.tripping.flatMap(({ fatigue }) => fatigue) : [];
}

function dipsSentence({ load, longestWithout, fedEachRound, peak, minimum }: Dips): string {
  const start = `${capital(the(load))} goes without supply for ${time(longestWithout)} at a time.`;
  if (peak !== null && peak < minimum) return `${start} The pulses no longer reach it.`;
  const up = peak === null ? "" : `, at up to ${formatQuantity(peak, "voltage")}`;
  return `${start} In each round it stands above its minimum for about ${time(rough(fedEachRound))}${up}. Whether a radio starts or a lamp lights up in that time is not computed.`;
}

/** The share of a round is a mean over the run, and no better known than this. */
const rough = (value: number): number => Number(value.toPrecision(2));

/** From what is told of a round, so that both agree; a longer run would move the digit behind. */
export function fedInAll({ fedEachRound }: Pick<Dips, "fedEachRound">, trips: number): string {
  return roughTime(rough(fedEachRound) * trips);
}

function dipsTable(document: Document, dips: Dips): HTMLElement {
  const row = (label: string, span: number): HTMLElement => {
    const trips = tripsIn(dips, span);
    return el(
      document,
      "tr",
      {},
      el(document, "th", { scope: "row" }, label),
      el(document, "td", { class: "number" }, grouped(Number(trips.toPrecision(3)))),
      el(document, "td", { class: "number" }, whole(fedInAll(dips, trips))),
    );
  };
  return table(
    document,
    "At the rhythm of the last round",
    ["After", "dips, about", "with supply, about"],
    [row("a minute", MINUTE), row("an hour", anHour), row("a day", 24 * anHour)],
  );
}

/** The published table with this fuse's place in it. */
function pulseTable(document: Document, { share, fuse }: PulseFatigue, dips: Dips | null): HTMLElement {
  const mildFirst = PULSE_WITHSTAND.toReversed();
  const here = mildFirst.findIndex(({ fraction }) => share <= fraction);
  const rows = mildFirst.map(({ pulses, fraction }, i) =>
    el(
      document,
      "tr",
      { "aria-current": i === here ? "true" : null },
      el(document, "th", { scope: "row" }, whole(`up to ${percent(fraction)}`)),
      el(document, "td", { class: "number" }, grouped(pulses)),
      el(document, "td", { class: "number" }, dips === null ? "–" : whole(roughTime(pulses * dips.period))),
      el(document, "td", {}, i === here ? whole(`${the(fuse)}, ${percent(share)}`) : ""),
    ),
  );
  const heads = ["Each pulse takes, of the melting I²t", "pulses it stands", "at this rhythm", "here"];
  return table(document, "Source: pulse charts of a fuse catalogue", heads, rows);
}

function table(
  document: Document,
  caption: string,
  heads: readonly string[],
  rows: readonly HTMLElement[],
): HTMLElement {
  const head = el(document, "tr", {}, ...heads.map((text) => el(document, "th", { scope: "col" }, text)));
  return el(
    document,
    "div",
    { class: "scroll-x", tabindex: 0, role: "region", "aria-label": caption },
    el(
      document,
      "table",
      {},
      el(document, "caption", {}, caption),
      el(document, "thead", {}, head),
      el(document, "tbody", {}, ...rows),
    ),
  );
}
