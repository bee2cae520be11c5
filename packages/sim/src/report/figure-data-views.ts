import type { Run } from "../model/result.ts";
import type { Verdict } from "../verdict/types.ts";
import { show, the } from "../verdict/words.ts";
import type { WaveformData } from "./figure/types.ts";
import { figureData } from "./figure-data.ts";

/**
 * The fault figure's data for its current panel alone: title and answer speak of what flowed.
 *
 * @param run with its waveforms (`record` not switched off)
 * @example faultFigure(currentsData(run, verdict), { document, panels: ["current"] })
 */
export function currentsData(run: Run, verdict: Verdict): WaveformData {
  const data = figureData(run, verdict);
  const peaks = data.currents
    .map(({ label, values }) => ({ label, peak: values.reduce((most, value) => Math.max(most, Math.abs(value)), 0) }))
    .sort((a, b) => b.peak - a.peak);
  // A capital makes no proper name of an SCR.
  const where = (label: string): string => (label === "SCR" ? "the SCR" : the(label));
  const told = peaks.slice(0, 3).map(({ label, peak }) => `${show(peak, "current")} in ${where(label)}`);
  const subtitle = told.length === 0 ? data.subtitle : `At most ${told.join(", ")}.`;
  return { ...data, title: `${data.title}: what flowed?`, subtitle };
}

/**
 * The fault figure's data for its states alone: title and answer speak of what the protection did.
 *
 * @param run with its waveforms (`record` not switched off)
 * @example faultFigure(statesData(run, verdict), { document, panels: ["states"] })
 */
export function statesData(run: Run, verdict: Verdict): WaveformData {
  const data = figureData(run, verdict);
  const done = verdict.kind === "verdict" ? whole(verdict.done) : "";
  return { ...data, title: `${data.title}: who did what?`, subtitle: done === "" ? data.subtitle : done };
}

/** What two lines of a subtitle hold. */
const ROOM = 200;

/** As many whole sentences as there is room for, but one at least. */
function whole([first = "", ...others]: readonly string[]): string {
  return others.reduce((told, each) => (told.length + each.length < ROOM ? `${told} ${each}` : told), first);
}
