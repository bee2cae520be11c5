import { columnName } from "../../model/readings.ts";
import type { Run } from "../../model/result.ts";
import type { Answered } from "../../report/run-scenario.ts";
import type { Pending } from "../../verdict/types.ts";
import { show } from "../../verdict/words.ts";

const ENDLESS: readonly Pending["kind"][] = ["held on", "repeated tripping", "going on and off"];
const FIRST = "Air the room";
const OFF = "Switch every source off";
/** Less is no current that a terminal could not be pulled under, A (assumed). */
const MUCH = 1;

/**
 * What to do after a fault before the line is used again, in order: air, switch off, end what still flows, then the verdict's steps: find the
 * fault, replace, reset. Without a verdict, what it takes to get one; nothing where nothing tripped and nothing was hurt.
 *
 * @param answered of `runScenario`
 * @example resetSteps(answered)[0] // "Switch every source off, wait, and measure before you touch anything."
 */
export function resetSteps({ run, verdict, scenario }: Answered): readonly string[] {
  if (verdict.kind !== "verdict") return [verdict.remedy];
  const steps = verdict.replace;
  const endless = verdict.pending.some(({ kind }) => ENDLESS.includes(kind));
  if (steps.length === 0 && !endless) return [];
  const said = steps.some((step) => step.startsWith(OFF));
  const switched = scenario.sources.some(({ kind }) => kind !== "battery");
  const off =
    said || !switched
      ? []
      : [
          endless
            ? `${OFF}: what still goes on does not end by itself.`
            : `${OFF}, wait, and measure before you touch anything.`,
        ];
  const battery = scenario.sources.some(({ kind }) => kind === "battery");
  const flow =
    battery && stillThrough(run) !== null
      ? [
          "Open the circuit at a fuse or switch made for that current, never by pulling a terminal: it would draw an arc (common practice, no source).",
        ]
      : [];
  const aired = steps.findLastIndex((step) => step.startsWith(FIRST)) + 1;
  return [...steps.slice(0, aired), ...off, ...flow, ...steps.slice(aired)];
}

/** What still flows through a protector that failed short when the run ends, as a sentence; null: nothing that counts. */
export function stillThrough({ trace, crowbar, clamp }: Run): string | null {
  const failed = crowbar?.failedShort ? "crowbar" : clamp?.failedShort ? "clamp" : null;
  if (failed === null) return null;
  const values = trace.columns.find(({ name }) => name === columnName(failed, "A"))?.values;
  const current = values?.[values.length - 1] ?? 0;
  if (current < MUCH) return null;
  return `${show(current, "current")} flow through the failed ${failed === "crowbar" ? "SCR" : "clamp"} when the run ends, and nothing in the line ends that.`;
}
