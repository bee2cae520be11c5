import { formatQuantity, groupDigits, type Judged, type Scenario, type Supply } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { Answer } from "../../run/protocol.ts";

const volts = (value: number): string => formatQuantity(value, "voltage");
const lasting = (seconds: number): string => formatQuantity(seconds, "time");

function failing({ sources }: Scenario): Supply | null {
  const supplies = sources.filter((source) => source.kind === "supply");
  return supplies.find(({ fault }) => fault.kind !== "none") ?? supplies[0] ?? null;
}

/** The run told in two paragraphs, with its numbers. */
export function storyOf(answer: Answer): HTMLElement[] {
  const told = [
    ["The fault.", whatBreaks(answer)],
    ["The race.", whyFast(answer)],
  ];
  return told
    .filter(([, text]) => text !== "")
    .map(([name, text]) => el(document, "p", {}, el(document, "strong", {}, name), ` ${text}`));
}

/** What the fault does to the line, with the numbers of this one. */
export function whatBreaks({ scenario }: Answer): string {
  const supply = failing(scenario);
  if (supply === null) return "No supply feeds this line: nothing of this page's kind can break in it.";
  const { fault, setVoltage, reservoir, name } = supply;
  const healthy = `Healthy, the ${name} gives ${volts(setVoltage)}.`;
  switch (fault.kind) {
    case "shorted pass transistor":
      return `${healthy} Behind its pass transistor stand ${volts(reservoir?.rawVoltage ?? 0)} and a reservoir of ${formatQuantity(reservoir?.capacitance ?? 0, "capacitance")}. When the transistor shorts, only ${formatQuantity(fault.passResistance, "resistance")} of it are left between them and the line, and no limit of the supply has a say any more.`;
    case "lost feedback":
      return `${healthy} Without its feedback it believes that this is too little, and rises at ${formatQuantity(fault.slew, "voltage slew")} until it can give no more: ${volts(fault.ceilingVoltage)}. Its current limit still works.`;
    case "voltage turned up":
      return `${healthy} Somebody turns it up at ${formatQuantity(fault.slew, "voltage slew")} to ${volts(fault.endVoltage)}. Its current limit still works.`;
    default:
      return `${healthy} Nothing breaks here: this is the line in good health.`;
  }
}

/** How soon somebody has to act, and how late the fuse comes. */
export function whyFast({ scenario, run, verdict }: Answer): string {
  if (verdict.kind !== "verdict") return "";
  const { faultTime } = scenario;
  const firing = run.events.find(({ kind, subject }) => kind === "fires" && subject.part === "crowbar");
  const opening = run.events.find(({ subject }) => subject.part === "series switch");
  const acts = firing ?? opening;
  const who = firing === undefined ? "The switch begins to open" : "The crowbar fires";
  const melting = run.fuses.find(({ subject }) => subject.part === "main fuse")?.meltTime ?? null;
  return [
    ...(acts === undefined ? [] : [`${who} ${lasting(acts.time - faultTime)} after the fault.`]),
    melting === null
      ? scenario.mainFuse === null
        ? "There is no main fuse that could end it."
        : "The main fuse stays whole in this run."
      : `The main fuse melts ${lasting(melting - faultTime)} after the fault${acts === undefined ? "" : times(melting - faultTime, acts.time - faultTime)}.`,
    ...highest(verdict),
  ].join(" ");
}

const times = (late: number, early: number): string =>
  early > 0 && late > 2 * early ? `, ${groupDigits(String(Number((late / early).toPrecision(2))))} times as late` : "";

function highest({ loads }: Judged): string[] {
  return loads.map(
    ({ name, peak, maximum }) =>
      `The ${name.replace(/^the /i, "")} sees ${volts(peak.value)} at the most; its window ends at ${volts(maximum)}.`,
  );
}
