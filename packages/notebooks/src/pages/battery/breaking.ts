import { formatQuantity, type PartClass, parts, type Run } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { Answer } from "../../run/protocol.ts";
import { alternatingOnly } from "../../show/able-to-break.ts";
import { unbroken } from "../../show/words.ts";

/** One class of fuses against a short circuit right behind it. */
export interface BreakingDuty {
  readonly name: string;
  /** A; null: not known. */
  readonly breaks: number | null;
  /** Where that is known from. */
  readonly source: string;
  /** Largest current of a short circuit right behind the fuse at the battery's terminal, A: voltage over resistance. */
  readonly mayFace: number;
}

/**
 * Of each family of fuses the rating nearest to the one wanted, against what the first battery of a run can push through a
 * short circuit at its terminal: its highest voltage in the run over its internal resistance and the fuse's cold resistance.
 *
 * @param rated A, of the fuse in question
 * @returns empty where the run has no battery
 */
export function breakingDuties(run: Run, rated: number): readonly BreakingDuty[] {
  const battery = batteryIn(run);
  if (battery === null) return [];
  return nearestOfEach(rated).map(({ name, values }) => {
    const cold = numberOf(values.coldResistance) ?? 0;
    return {
      name,
      breaks: numberOf(values.breakingCapacity),
      source: values.breakingCapacity?.source ?? values.ratedVoltage?.source ?? "",
      mayFace: battery.voltage / (battery.resistance + cold),
    };
  });
}

/** The first battery of a run: its highest voltage, V, and what it limits a current with, Ω; null where there is none. */
function batteryIn(run: Run): { readonly voltage: number; readonly resistance: number } | null {
  const index = run.scenario.sources.findIndex(({ kind }) => kind === "battery");
  const battery = run.scenario.sources[index];
  if (battery?.kind !== "battery") return null;
  const voltage = Math.max(battery.emf, run.sources[index]?.peak.value ?? 0);
  return { voltage, resistance: battery.internalResistance };
}

/**
 * The largest current of a short circuit right at the first battery's terminal, A: its highest voltage over its own resistance and that of
 * what stands in the way. Null where the line has no battery.
 *
 * @param cold the fuse's cold resistance, Ω
 */
export function deadShort(run: Run, cold: number): number | null {
  const battery = batteryIn(run);
  return battery === null ? null : battery.voltage / (battery.resistance + cold);
}

/** What the sheet of a fuse has to say that stands next to the battery: A and V DC, rounded up to what sheets name; null: no battery. */
export function enoughToBreak(run: Run): { readonly current: number; readonly voltage: number } | null {
  // A fuse that nobody has chosen yet limits nothing.
  const current = deadShort(run, 0);
  if (current === null) return null;
  const step = 10 ** Math.floor(Math.log10(current) - 1);
  return {
    current: Math.ceil(current / step) * step,
    voltage: Math.ceil(Math.max(...run.sources.map(({ peak }) => peak.value))),
  };
}

/** What to look for, as a sentence; empty where there is no battery. */
export function enoughWords({ run }: Answer): string {
  const enough = enoughToBreak(run);
  if (enough === null) return "";
  const [amperes, volts] = [formatQuantity(enough.current, "current"), formatQuantity(enough.voltage, "voltage")];
  return unbroken(
    `What would be enough: look for a fuse whose sheet says that it breaks at least ${amperes} at ${volts} DC or more. That is what this battery gives with nothing but its own resistance in the way.`,
  );
}

type Value = PartClass["values"][string] | undefined;

function numberOf(cited: Value): number | null {
  return typeof cited?.value === "number" ? cited.value : null;
}

function nearestOfEach(rated: number): readonly PartClass[] {
  const off = ({ values }: PartClass): number => Math.abs((numberOf(values.ratedCurrent) ?? 0) - rated);
  const best = new Map<string, PartClass>();
  for (const part of parts) {
    if (part.kind !== "fuse") continue;
    const known = best.get(part.about);
    if (known === undefined || off(part) < off(known)) best.set(part.about, part);
  }
  return [...best.values()];
}

function judged({ breaks, mayFace, source }: BreakingDuty): { readonly tone: string; readonly words: string } {
  if (breaks === null) return { tone: "none", words: "unknown" };
  if (breaks < mayFace) return { tone: "endangered", words: "too little" };
  return alternatingOnly(source) ? { tone: "none", words: "unknown on DC" } : { tone: "safe", words: "enough" };
}

/** Breaking capacities side by side; what nobody published is called unknown. */
export function breakingTable(): { readonly element: HTMLElement; show(answer: Answer): void } {
  const body = el(document, "tbody");
  const heads = ["Fuse class", "Breaks at most", "May face", "Enough?", "Where that is known from"];
  const table = el(
    document,
    "table",
    {},
    el(document, "thead", {}, el(document, "tr", {}, ...heads.map((head) => headOf(head)))),
    body,
  );
  const current = (amperes: number): string => formatQuantity(amperes, "current");
  const region = el(
    document,
    "div",
    { class: "scroll-x breaking", tabindex: 0, role: "region", "aria-label": "Breaking capacity of fuse classes" },
    table,
  );
  const nothing = el(document, "p", { class: "aside", hidden: true }, "There is no battery on this line.");
  return {
    element: el(document, "div", {}, region, nothing),
    show({ run }) {
      const duties = breakingDuties(run, ratedOf(run));
      region.hidden = duties.length === 0;
      nothing.hidden = !region.hidden;
      body.replaceChildren(
        ...duties.map((duty) => {
          const { tone, words } = judged(duty);
          return el(
            document,
            "tr",
            {},
            el(document, "th", { scope: "row" }, duty.name),
            el(document, "td", { class: "number" }, duty.breaks === null ? "unknown" : current(duty.breaks)),
            el(document, "td", { class: "number" }, current(duty.mayFace)),
            el(document, "td", {}, el(document, "span", { class: "state-tag", "data-tone": tone }, words)),
            el(document, "td", {}, duty.source),
          );
        }),
      );
    },
  };
}

const NUMBERS = new Set(["Breaks at most", "May face"]);

function headOf(text: string): HTMLElement {
  return el(document, "th", { scope: "col", ...(NUMBERS.has(text) ? { class: "number" } : {}) }, text);
}

/** Where the battery's lead has no fuse, what would be compared: A. */
const USUAL_RATING = 20;

function ratedOf(run: Run): number {
  const battery = run.scenario.sources.find(({ kind }) => kind === "battery");
  return battery?.lead.fuse?.ratedCurrent ?? run.scenario.mainFuse?.ratedCurrent ?? USUAL_RATING;
}

/** What the verdict says of the short-circuit current at the trip, in its own words. */
export function facedSentences({ verdict }: Answer): readonly string[] {
  if (verdict.kind !== "verdict") return [];
  return verdict.findings
    .filter(({ quantity }) => quantity === "available short-circuit current")
    .map(({ sentence }) => sentence);
}
