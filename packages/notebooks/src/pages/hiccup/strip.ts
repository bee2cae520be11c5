import { el, setText } from "../../controls/index.ts";
import { toneOf } from "./card.ts";
import type { Ending } from "./outcome-types.ts";
import { bounds, type RungFound, type Sweep, tooSmall } from "./sweep.ts";
import type { Holds } from "./transmit.ts";
import { whole } from "./words.ts";

/** A tag's words where there is little room. */
const SHORT: Readonly<Record<Ending, string>> = {
  fuse: "fuse blows",
  "fuse in doubt": "fuse blows",
  "fuse bursts": "may burst",
  shorted: "SCR fails",
  trips: "trips on",
  overheats: "SCR too hot",
  cycles: "on and off",
  held: "held on",
  fired: "stays fired",
  latched: "latched off",
  "cut off": "cut off",
  "let go": "lets go",
  beyond: "endangered",
  quiet: "nothing",
  watched: "watched",
  stopped: "stopped",
  unknown: "no run",
};

/** A fuse that is too small for what it has to carry every day, in as few words. */
const STRAIN: Readonly<Record<Holds["holds"], string>> = {
  yes: "",
  "not for long": "would tire",
  no: "would not hold",
};

/** A row of runs along one value: what each of them ends like, and where the line stands. */
export function stripView(document: Document, sweep: Sweep) {
  const sentence = el(document, "p", { class: "strip-sentence", "aria-live": "polite" });
  const list = el(document, "ol", { class: "strip", "aria-label": `${sweep.heading}: how a hiccup ends` });
  const why = el(document, "p", { class: "strip-why" });
  const element = el(
    document,
    "section",
    { class: "strip-section" },
    el(document, "h3", {}, sweep.heading),
    sentence,
    list,
    why,
  );
  const entry = ({ rung, outcome, carries }: RungFound): HTMLElement => {
    const strained = carries !== undefined && carries.holds !== "yes";
    // No fuse is good that does not carry its own radio.
    const tone = outcome === null || (strained && toneOf(outcome) === "safe") ? "none" : toneOf(outcome);
    const strain = strained
      ? el(document, "span", { class: "state-tag", "data-tone": carries.tone }, STRAIN[carries.holds])
      : null;
    const tag = el(
      document,
      "span",
      { class: "state-tag", "data-tone": tone },
      outcome === null ? "…" : SHORT[outcome.ending],
    );
    const mark = rung.here ? el(document, "span", { class: "strip-here" }, "your line") : null;
    const value = el(document, "span", { class: "strip-value" }, whole(rung.label), mark);
    const words = el(document, "span", { class: "strip-words" }, whole(outcome?.brief ?? ""));
    return el(document, "li", { "aria-current": rung.here ? "true" : null }, value, tag, strain, words);
  };
  return {
    element,
    /** Something else was asked for; what stands here stays until it is known. */
    busy(): void {
      element.setAttribute("aria-busy", "true");
    },
    show(rungs: readonly RungFound[], busy: boolean): void {
      element.setAttribute("aria-busy", String(busy));
      list.replaceChildren(...rungs.map(entry));
      const refused = rungs.filter(({ outcome }) => outcome?.ending === "unknown");
      setText(why, whole(refused.map(({ rung, outcome }) => `${rung.label}: ${outcome?.sentence}`).join(" ")));
      const told = `${bounds(sweep.heading, rungs)} ${tooSmall(rungs)}`.trim();
      setText(sentence, busy ? "Computing one run for each value …" : whole(told));
    },
  };
}
