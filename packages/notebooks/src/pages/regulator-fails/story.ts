import {
  formatQuantity,
  groupDigits,
  type Judged,
  type Panel,
  type Run,
  type Scenario,
  type Supply,
} from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { Answer } from "../../run/protocol.ts";
import { unbroken } from "../../show/words.ts";
import { firstAct } from "./first-act.ts";

const volts = (value: number): string => formatQuantity(value, "voltage");
const lasting = (seconds: number): string => formatQuantity(seconds, "time");

/** What can fail: the source that does, else the first of those that could. */
function failing({ sources }: Scenario): Supply | Panel | null {
  const able = sources.filter((source) => source.kind !== "battery");
  return (
    able.find(({ fault }) => fault.kind !== "none") ?? able.find(({ kind }) => kind === "supply") ?? able[0] ?? null
  );
}

/** After what a reader counts: the fault; where no source has one, the first contact that moves by itself, else the start. */
export function zeroOf(run: Pick<Run, "events" | "scenario">): { readonly time: number; readonly words: string } {
  const { scenario, events } = run;
  if (scenario.sources.some((source) => source.kind !== "battery" && source.fault.kind !== "none"))
    return { time: scenario.faultTime, words: "after the fault" };
  const moved = events.find(({ kind }) => kind === "contact opens" || kind === "contact closes");
  return moved === undefined
    ? { time: 0, words: "after the start" }
    : { time: moved.time, words: `after the contact ${moved.kind === "contact opens" ? "opens" : "closes"}` };
}

/** The run told in two paragraphs, with its numbers. */
export function storyOf(answer: Answer): HTMLElement[] {
  const told = [
    ["The fault.", whatBreaks(answer)],
    ["The race.", whyFast(answer)],
  ];
  return told
    .filter(([, text]) => text !== "")
    .map(([name, text]) => el(document, "p", {}, el(document, "strong", {}, name), ` ${unbroken(text)}`));
}

/** What the fault does to the line, with the numbers of this one. */
export function whatBreaks({ scenario, run }: Answer): string {
  const source = failing(scenario);
  if (source === null) return ["Only batteries feed this line: no regulator can fail in it.", ...moved(run)].join(" ");
  if (source.kind === "panel") return ofPanel(source, run);
  const { fault, setVoltage, reservoir, name, limit } = source;
  const healthy = `Healthy, the ${name} gives ${volts(setVoltage)}.`;
  const limited = limit.style === "none" ? "It has no current limit." : "Its current limit still works.";
  switch (fault.kind) {
    case "shorted pass transistor":
      return `${healthy} Behind its pass transistor stand ${volts(reservoir?.rawVoltage ?? 0)} and a reservoir of ${formatQuantity(reservoir?.capacitance ?? 0, "capacitance")}. When the transistor shorts, only ${formatQuantity(fault.passResistance, "resistance")} of it are left between them and the line, and no limit of the supply has a say any more.`;
    case "lost feedback":
      return `${healthy} Without its feedback it believes that this is too little, and rises at ${formatQuantity(fault.slew, "voltage slew")} until it can give no more: ${ceilingOf(source)}. ${limited}`;
    case "voltage turned up":
      return `${healthy} Somebody turns it up at ${formatQuantity(fault.slew, "voltage slew")} to ${volts(fault.endVoltage)}. ${limited}`;
    default:
      return [healthy, ...nothingFails(run)].join(" ");
  }
}

/** How high a supply without feedback gets: no higher than what stands behind its pass transistor. */
function ceilingOf({ fault, reservoir }: Supply): string {
  const ceiling = fault.kind === "lost feedback" ? fault.ceilingVoltage : Number.POSITIVE_INFINITY;
  const raw = reservoir?.rawVoltage ?? Number.POSITIVE_INFINITY;
  return raw < ceiling ? `the ${volts(raw)} behind its pass transistor, less what is lost on the way` : volts(ceiling);
}

function ofPanel({ name, fault, shortCircuitCurrent, openCircuitVoltage }: Panel, run: Run): string {
  const gives = `up to ${formatQuantity(shortCircuitCurrent, "current")} and, with nothing to feed, ${volts(openCircuitVoltage)}`;
  return fault.kind === "none"
    ? [`The ${name} is able to give ${gives}.`, ...nothingFails(run)].join(" ")
    : `A controller keeps the ${name} from giving what it is able to. When it shorts, the panel stands on the line itself, with ${gives}.`;
}

function nothingFails(run: Run): readonly string[] {
  const contacts = moved(run);
  return contacts.length === 0
    ? ["Nothing breaks here: this is the line in good health."]
    : ["It does not fail here.", ...contacts];
}

/** The contacts that move by themselves are what happens to a line without a fault. */
function moved({ events }: Run): readonly string[] {
  const first = events.find(({ kind }) => kind === "contact opens" || kind === "contact closes");
  if (first === undefined) return [];
  const does = first.kind === "contact opens" ? "opens" : "closes";
  return [`${lasting(first.time)} after the start the contact in the lead of the ${first.subject.owner} ${does}.`];
}

/** How soon somebody has to act, and how late the fuse comes. */
export function whyFast({ scenario, run, verdict }: Answer): string {
  if (verdict.kind !== "verdict") return "";
  const { time: zero, words } = zeroOf(run);
  const acts = firstAct(run);
  return [
    ...(acts === null ? [] : [`${acts.words} ${lasting(acts.time - zero)} ${words}.`]),
    fuseSentence(scenario, run, acts === null ? null : acts.time - zero),
    ...highest(verdict),
  ].join(" ");
}

/** The fuse that ends it, or that there is none; `early`: when a protector had acted. */
function fuseSentence({ mainFuse }: Scenario, run: Run, early: number | null): string {
  const { time: zero, words } = zeroOf(run);
  const melted = run.fuses.find(({ subject, meltTime }) => meltTime !== null && subject.part === "main fuse");
  const inLine = run.fuses.find(({ meltTime }) => meltTime !== null);
  const ends = melted ?? inLine;
  if (ends === undefined || ends.meltTime === null)
    return mainFuse === null
      ? "There is no main fuse that could end it."
      : `${run.fuses.length > 1 ? "All fuses stay" : "The main fuse stays"} whole in this run.`;
  const who = ends === melted ? "The main fuse" : `The fuse in the lead of the ${ends.subject.owner}`;
  const late = ends.meltTime - zero;
  return `${who} melts ${lasting(late)} ${words}${early === null ? "" : times(late, early)}.`;
}

const times = (late: number, early: number): string =>
  early > 0 && late > 2 * early ? `, ${groupDigits(String(Number((late / early).toPrecision(2))))} times as late` : "";

function highest({ loads }: Judged): string[] {
  return loads.map(
    ({ name, peak, maximum }) =>
      `The ${name.replace(/^the /i, "")} sees ${volts(peak.value)} at the most; its window ends at ${volts(maximum)}.`,
  );
}
