import { formatQuantity } from "@railfault/sim";
import { faultFigure, legendFigure, type SharedAxes, sharedAxes, type WaveformData } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { Answer } from "../../run/protocol.ts";
import { type FigurePlace, figurePlace } from "../../show/index.ts";
import { unbroken } from "../../show/words.ts";
import { runProgress } from "../regulator-fails/run-progress.ts";
import { COPPER_MELTS, courseOf, type PlaceFacts, placeFacts, tagOfPlace } from "./place-facts.ts";
import { pathData } from "./place-picture.ts";
import { type FusePlace, fusePlaces, runOfPlace } from "./places.ts";

/** Where the comparison's time begins after the trip, s. */
const FIRST = 1e-5;

interface Drawn {
  readonly data: WaveformData;
  readonly axes: SharedAxes;
}

const current = (amperes: number): string => formatQuantity(amperes, "current");
const temperature = (celsius: number): string => formatQuantity(celsius, "temperature");

/** One fuse in its places, side by side: the current after the trip, what opens, what gets hot. */
export function placesView(opened: OpenedLine): { readonly element: HTMLElement; leave(): void } {
  const cards = fusePlaces.map(cardOf);
  const nothing = el(
    document,
    "p",
    { class: "aside", hidden: true },
    "A fuse has three places to compare only where a line has a battery and a crowbar; this one has not both.",
  );
  const legend = figurePlace<Drawn>(document, {
    label: "What the curves mean",
    menu: false,
    reserve: () => 40,
    draw: ({ data, axes }, drawing) => legendFigure(data, { ...drawing, axes, panels: ["current"] }),
  });
  const multiples = el(document, "div", { class: "places" }, ...cards.map(({ element }) => element));
  const progress = runProgress(
    opened,
    fusePlaces.map(({ name }) => name),
  );
  let shown: readonly (Answer | null)[] = [];
  const stop = opened.runs((runs) => {
    const found = fusePlaces.map(({ name }) => runOfPlace(runs, name, opened.line.now));
    const answers = found.map((run) => run?.answer ?? null);
    for (const [i, card] of cards.entries()) {
      card.busy(found[i]?.status === "running");
      card.element.toggleAttribute("data-stale", found[i]?.stale === true);
    }
    const matters = found.every((run) => run !== null) || runs.size === 0;
    nothing.hidden = matters;
    multiples.hidden = !matters;
    if (!matters) legend.element.hidden = true;
    if (answers.every((answer, i) => answer === shown[i])) return;
    shown = answers;
    if (answers.every((answer) => answer !== null)) showAll(cards, answers, legend);
  });
  return {
    element: el(document, "div", {}, progress.element, legend.element, multiples, nothing),
    leave() {
      stop();
      progress.leave();
      legend.leave();
      for (const card of cards) card.leave();
    },
  };
}

type Card = ReturnType<typeof cardOf>;

function showAll(cards: readonly Card[], answers: readonly Answer[], legend: FigurePlace<Drawn>): void {
  const facts = answers.map(placeFacts);
  const data = answers.map((answer, i) => pathData(answer, facts[i], fusePlaces[i].title));
  const tripped = data.filter((each) => each !== null);
  const axes = tripped.length === 0 ? null : { ...sharedAxes(tripped), timeScale: "logarithmic" as const };
  legend.element.hidden = axes === null;
  if (axes !== null) legend.show({ data: tripped[0], axes });
  for (const [i, card] of cards.entries()) {
    const own = data[i];
    card.show(facts[i], own === null || axes === null ? null : { data: own, axes: { ...axes, firstDelay: FIRST } });
  }
}

function cardOf({ title, means }: FusePlace) {
  const figure: FigurePlace<Drawn> = figurePlace<Drawn>(document, {
    label: `${title}: current after the trip`,
    title: () => `Fuse place, ${title}`,
    reserve: () => 270,
    draw: ({ data, axes }, drawing) =>
      faultFigure(data, {
        ...drawing,
        ...(drawing.size === undefined ? { height: 270 } : {}),
        axes,
        frame: "bare",
        panels: ["current", "states"],
      }),
  });
  const tag = el(document, "span", { class: "state-tag" });
  const course = el(document, "p", { class: "place-course" });
  const facts = el(document, "dl", { class: "place-facts" });
  const hurt = el(document, "ul");
  const against = el(document, "details", { class: "more" }, el(document, "summary", {}, "Beyond its rating"), hurt);
  const element = el(
    document,
    "section",
    { class: "place" },
    el(document, "h3", {}, title, " ", tag),
    el(document, "p", { class: "aside" }, means),
    figure.element,
    el(document, "div", { class: "place-words" }, course, facts, against),
  );
  return {
    element,
    busy: figure.busy,
    leave: figure.leave,
    show(found: PlaceFacts | null, drawn: Drawn | null): void {
      figure.element.hidden = drawn === null;
      if (drawn !== null) figure.show(drawn);
      if (found === null) return;
      const { tone, words } = tagOfPlace(found);
      tag.dataset.tone = tone;
      setText(tag, words);
      setText(course, unbroken(courseOf(found, current)));
      against.hidden = found.hurt.length === 0;
      hurt.replaceChildren(...found.hurt.map((sentence) => el(document, "li", {}, unbroken(sentence))));
      facts.replaceChildren(
        ...rowsOf(found).flatMap(([name, text]) => [name, unbroken(text)].map((each, i) => cell(i, each))),
      );
    },
  };
}

const cell = (place: number, text: string): HTMLElement => el(document, place === 0 ? "dt" : "dd", {}, text);

function rowsOf({ trip, fuse, scr, wire, radio }: PlaceFacts): readonly (readonly [name: string, text: string])[] {
  if (trip === null) return [];
  const hottest = wire.reached < COPPER_MELTS ? `${temperature(wire.reached)} at the hottest` : "its copper melts";
  const junction =
    scr === null || scr.peakTemperature > scr.failTemperature
      ? `past ${temperature(scr?.failTemperature ?? 0)}, where it counts as failed`
      : `${temperature(scr.peakTemperature)} at the hottest`;
  return [
    ["Crowbar’s path", fuse === null ? "no fuse in it" : `through the ${fuse.label}`],
    ["Battery’s lead", `${hottest}; its insulation stands ${temperature(wire.insulation)} for seconds`],
    ...(scr === null ? [] : [["SCR’s junction", junction] as const]),
    ["The radio", radio],
  ];
}
