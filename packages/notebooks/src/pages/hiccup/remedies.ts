import { drawOnTransmit, findPart, formatQuantity } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { Change } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";
import type { Answer, RunRequest } from "../../run/protocol.ts";
import type { Found, Task } from "./background.ts";
import { type Note, runCard } from "./card.ts";
import { bladeFuses, fuseClass } from "./controls.ts";
import { hazardNotes } from "./hazards.ts";
import { heldHeatTold } from "./held-heat.ts";
import { commonAxes, smallData } from "./multiples.ts";
import { outcomeOf } from "./outcome.ts";
import { blows, type Outcome, tripsOn } from "./outcome-types.ts";
import { peakNote, peakOf } from "./peak.ts";
import { returnOf } from "./return.ts";
import { followed, spanOf } from "./styles.ts";
import { hiccupRequest, type RungFound } from "./sweep.ts";
import { holdsTagged } from "./transmit.ts";
import { lastFound, onwardTask } from "./watching.ts";
import { whyRefused } from "./words.ts";

/** What may help against the tripping. */
interface Remedy {
  readonly name: string;
  readonly label: string;
  readonly does: string;
}

const REMEDIES: readonly Remedy[] = [
  { name: "gate", label: "Gate kept on", does: "once fired, the SCR stays fired until somebody resets it" },
  {
    name: "disconnect",
    label: "Crowbar with disconnect",
    does: "the firing also opens a relay towards the radio, for good",
  },
  { name: "fuse", label: "A smaller fuse", does: "the largest below yours that still blows, or else the next one" },
];

/** The relay opens on the firing; its own level only has to lie above the trip point. */
const ABOVE_TRIP = 0.5;
/** The radio's input capacitor empties through the closed contact into the SCR: a pulse rating. */
const RELAY = "relay 30 A";
const PULSE = "250 A";

/** s. */
const HOUR = 3600;
/** A picture goes on for a while after a fuse has blown. */
const AFTER_END = 1.25;

/** s after the fault; 0 where no fuse blows. */
function blownAfter({ run }: Answer): number {
  const opened = run.fuses.flatMap(({ openTime }) => (openTime === null ? [] : [openTime]));
  return opened.length === 0 ? 0 : Math.min(...opened) - run.scenario.faultTime;
}

/** The changes that each remedy makes; null where the line has no crowbar, or nothing to change. */
function changesOf(name: string, now: LineNow, rungs: readonly RungFound[]): readonly Change[] | null {
  const bar = now.parsed.scenario?.crowbar;
  if (bar == null) return null;
  if (name === "fuse") {
    const smaller = smallerFuse(now, rungs);
    return smaller === null ? null : [[["main fuse"], smaller]];
  }
  if (name === "gate") return [[["crowbar", "variant"], "gate kept on until reset"]];
  const off = formatQuantity(bar.tripVoltage + ABOVE_TRIP, "voltage", { digits: 6 });
  const relay = `{part: ${RELAY}, off voltage: ${off}, ratings: {current: ${PULSE}}}`;
  const switched: readonly Change[] = now.parsed.scenario?.seriesSwitch == null ? [[["series switch"], relay]] : [];
  return [[["crowbar", "variant"], "crowbar with disconnect"], ...switched];
}

/** The largest fuse of the series below the line's own that ends the tripping; where none does, the next below; null: there is none. */
export function smallerFuse(now: LineNow, rungs: readonly RungFound[]): string | null {
  const own = now.parsed.scenario?.mainFuse;
  if (own == null) return null;
  const named = bladeFuses.indexOf(fuseClass(now) ?? "");
  const rated = bladeFuses.filter((name) => ratingOf(name) < (own.ratedCurrent ?? own.minimumMeltingCurrent)).length;
  const below = named >= 0 ? named : rated;
  const ends = rungs.slice(0, below).flatMap(({ outcome }, i) => (outcome !== null && blows(outcome) ? [i] : []));
  return bladeFuses[ends.at(-1) ?? below - 1] ?? null;
}

function ratingOf(name: string): number {
  const value = findPart("fuse", name)?.values.ratedCurrent?.value;
  return typeof value === "number" ? value : Number.POSITIVE_INFINITY;
}

/** The runs of all remedies; one that comes to rest with its SCR held on is followed for longer. */
export function remedyTasks(now: LineNow, rungs: readonly RungFound[]): readonly Task[] {
  return REMEDIES.flatMap(({ name }) => {
    const asked = (span: number) => (): RunRequest | null => {
      const changes = changesOf(name, now, rungs);
      return changes === null ? null : hiccupRequest(now, changes, span);
    };
    const span = Math.max(spanOf(now), followed(now));
    return [{ name, request: asked(span) }, onwardTask(name, asked(Math.max(span, HOUR)))];
  });
}

/** What is to be said of a remedy beside how its run ends: what it does not do, and what it costs. */
export function remedyNotes(name: string, answer: Answer, outcome: Outcome, now: LineNow): readonly Note[] {
  const seen = peakOf(answer);
  const notes: Note[] = seen === null ? [] : [peakNote(seen)];
  if (tripsOn(outcome)) notes.push(stillTrips(answer));
  const heat = heldHeatTold(answer.run);
  if (heat !== null) {
    const { sentence, ...mark } = heat;
    notes.push({ label: "Its heat", mark, sentence });
  }
  notes.push(...hazardNotes(answer.verdict));
  const fuse = answer.scenario.mainFuse;
  const draw = drawOnTransmit(now.parsed);
  if (name !== "fuse" || fuse === null || draw === null) return notes;
  const { tag, tone, sentence } = holdsTagged(fuse, draw, answer.scenario.ambient);
  return [...notes, { label: "The load", mark: { tag, tone }, sentence }];
}

/** A line that trips on may still have been parted from its radios. */
function stillTrips({ run, verdict }: Answer): Note {
  const loads = verdict.kind === "verdict" ? verdict.loads : [];
  const reached = loads.filter(({ name, minimum }) => {
    const last = run.loads.find((load) => load.name === name)?.peakPerCycle.at(-1);
    return last === undefined || last >= minimum;
  });
  const spared = reached.length === 0;
  return {
    label: "The tripping",
    mark: { tag: "Goes on", tone: "withstood" },
    sentence: spared
      ? "It protects the radio, but it does not stop the tripping: supply and SCR go on."
      : "It does not stop the tripping, and the pulses still reach the radio.",
  };
}

/** Three ways that may help, side by side. */
export function remedyCards() {
  const cards = REMEDIES.map((remedy) => ({
    ...remedy,
    card: runCard(document, remedy.label, `${remedy.label}: ${remedy.does}.`),
  }));
  return {
    element: el(document, "div", { class: "multiples run-cards" }, ...cards.map(({ card }) => card.element)),
    show(found: ReadonlyMap<string, Found>, busy: boolean, now: LineNow): void {
      for (const { card } of cards) card.busy(busy);
      if (busy) return;
      const good = cards.flatMap(({ name, label, card }) => {
        const each = lastFound(found, name);
        if (each?.kind === "answer") {
          const fuse = name === "fuse" ? each.answer.scenario.mainFuse?.label : undefined;
          const title = fuse === undefined ? label : `${label}: ${fuse}`;
          return [{ name, card, answer: each.answer, data: smallData(each.answer, title) }];
        }
        card.refuse(each?.kind === "failed" ? each.message : whyRefused(each?.issues ?? []));
        return [];
      });
      if (good.length === 0) return;
      const axes = commonAxes(
        good.map(({ data }) => data),
        Math.max(spanOf(now), ...good.map(({ answer }) => AFTER_END * blownAfter(answer))),
      );
      for (const { name, card, answer, data } of good) {
        const outcome = outcomeOf(answer);
        card.draw({ data, axes });
        card.tell(outcome, returnOf(answer, outcome), remedyNotes(name, answer, outcome, now), false);
      }
    },
    leave(): void {
      for (const { card } of cards) card.leave();
    },
  };
}
