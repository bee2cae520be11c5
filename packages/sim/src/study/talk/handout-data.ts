import type { Answered } from "../../report/run-scenario.ts";
import { headroomText } from "../../report/text-table.ts";
import type { Origin } from "../../scenario/sheet.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { nearness } from "../../verdict/finding.ts";
import { show } from "../../verdict/words.ts";
import { outcomeOf, warningsOf } from "./outcome.ts";
import { resetSheet } from "./reset.ts";

/** What a handout says: plain data, its figures aside. */
export interface Handout {
  /** Of the scenario. */
  readonly title: string;
  /** That the scenario answers; may be empty. */
  readonly question: string;
  /** How the fault came out, in a few sentences. */
  readonly headline: string;
  /** What the run warns of, each with what helps. */
  readonly warnings: readonly string[];
  /** Limits, the nearest first: what, found, limit, headroom. */
  readonly limits: readonly (readonly [what: string, found: string, limit: string, headroom: string])[];
  /** Whether one of them was passed. */
  readonly isPassed: boolean;
  /** What to do before the next use, in order. */
  readonly steps: readonly string[];
  /** That there are more of them, and where; null where these are all. It is no step itself. */
  readonly further: string | null;
  /** Where the values come from. */
  readonly origins: readonly string[];
  /** What no verdict of this model covers. */
  readonly cautions: readonly string[];
}

/** How many limits, assumed values and steps one side of A4 has room for. */
const ROOM = [4, 5, 6] as const;
/** The same beside warnings: these come before what stands on other sheets and in the verdict as well. */
const ROOM_BESIDE_WARNINGS = [3, 2, 4] as const;
const MOST_WARNINGS = 3;

/** Beyond it a limit is none that anybody asks about. */
const FAR = 100;

/**
 * The text of a one-page handout about one fault.
 *
 * @param answered of `runScenario`, run with its waveforms
 * @example handoutHtml(result, { document })
 */
export function handout(answered: Answered): Handout {
  const { run, verdict, parsed } = answered;
  const judged = verdict.kind === "verdict" ? verdict : null;
  const warnings = warningsOf(answered, MOST_WARNINGS);
  const [mostLimits, mostAssumed, mostSteps] = warnings.length === 0 ? ROOM : ROOM_BESIDE_WARNINGS;
  const limits = [...(judged?.loads ?? []).flatMap((load) => load.limits), ...(judged?.findings ?? [])]
    .flatMap(({ rating, ...limit }) => (nearness(limit) < FAR && rating !== null ? [{ ...limit, rating }] : []))
    .toSorted((a, b) => nearness(a) - nearness(b))
    .slice(0, mostLimits);
  // Counted as the sheet counts them, to which a person is sent for the others.
  const { steps } = resetSheet(answered);
  const kept = steps.length <= mostSteps ? steps : steps.slice(0, mostSteps - 1);
  return {
    title: verdict.title === "" ? "A fault on a 12 V line" : verdict.title,
    question: parsed.about.question,
    headline: outcomeOf(answered),
    warnings,
    limits: limits.map(({ subject, quantity, found, rating, dimension, headroom }) => [
      `${subject}, ${quantity}`,
      show(found, dimension),
      show(rating, dimension),
      headroomText(headroom),
    ]),
    isPassed: limits.some((limit) => nearness(limit) < 1),
    steps: kept,
    further: kept.length === steps.length ? null : `${steps.length - kept.length} more: see the reset sheet`,
    origins: origins(),
    cautions: CAUTIONS,
  };

  function origins(): readonly string[] {
    const classes = classesOf(parsed.origins);
    const told = verdict.assumptions.map(({ label }) => label);
    return [
      `A simulation of ${show(run.scenario.endTime, "time")} of this line; all energy is accounted for to within ${closeness(verdict.energy.relative)} %.`,
      ...(classes.length === 0 ? [] : [`Part classes: ${classes.join("; ")}.`]),
      ...(told.length === 0
        ? ["No value is assumed."]
        : [`Assumed, with nothing published behind it: ${shortened(told, mostAssumed).join("; ")}.`]),
    ];
  }
}

/** Sections of a file in the order in which current passes them. */
const SECTIONS = ["sources", "main fuse", "crowbar", "clamp", "series switch", "loads"];

/** Part classes from the sources to the loads, what the wires are insulated with last. */
function classesOf(origins: readonly Origin[]): readonly string[] {
  const told = origins.flatMap(({ path, partClass }) => {
    if (partClass === null) return [];
    const isWire = /\binsulation\b/.test(path);
    const place = isWire ? SECTIONS.length : SECTIONS.findIndex((section) => path.startsWith(section));
    return [{ place, name: isWire ? `insulation of ${partClass}` : partClass }];
  });
  return [...new Set(told.toSorted((a, b) => a.place - b.place).map(({ name }) => name))];
}

/** Percent, as one digit that is not below what is meant; below a thousandth nobody asks. */
function closeness(relative: number): string {
  const percent = Math.max(1e-3, Math.abs(relative) * 100);
  const digit = 10 ** Math.floor(Math.log10(percent) + 1e-9);
  return String(Number((Math.ceil(percent / digit - 1e-9) * digit).toPrecision(1)));
}

function shortened(labels: readonly string[], most: number): readonly string[] {
  const kept = most - 1;
  return labels.length <= most ? labels : [...labels.slice(0, kept), `${labels.length - kept} more in the verdict`];
}
