import type { Run } from "../model/result.ts";
import type { Judged } from "../verdict/types.ts";
import { duration, show, the } from "../verdict/words.ts";
import { conductions, firedScr, integral, meltedFuse, type ScrOfRun } from "./conduction.ts";
import type { SurgeData } from "./figure/chart-types.ts";
import { runFacts } from "./run-facts.ts";

/**
 * What the I²t bars draw of a run: the SCR's heaviest conduction, split into what the fuse carried until it melted, what it
 * carried while its arc burnt, what other sources gave after that, and what came from the capacitors behind the fuse (the SCR's i² beyond the fuse's).
 *
 * @param run with its waveforms (`record` not switched off)
 * @returns null where no SCR fired, or rows of the trace were left out: what lay between them cannot be integrated
 * @example
 * const shown = surgeData(run, verdict);
 * if (shown !== null) surgeBarsFigure(shown, { document })
 */
export function surgeData(run: Run, verdict: Judged): SurgeData | null {
  const scr = firedScr(run);
  if (scr === null || run.trace.thinned !== undefined) return null;
  const { ratings } = scr.spec;
  const { time } = run.trace;
  const spans = conductions(scr, time[time.length - 1]);
  const totals = spans.map(({ from, to }) => integral(time, from, to, (row) => scr.current[row] ** 2));
  const heaviest = totals.indexOf(Math.max(...totals));
  const total = totals[heaviest];
  const { from, to } = spans[heaviest];
  // I²t of a half-sine is its peak squared times half its length.
  const halfSine = (2 * ratings.i2t) / ratings.surgeCurrent ** 2;
  const which = spans.length === 1 ? "" : ` (the heaviest of ${spans.length} conductions)`;
  const worst = Math.max(...scr.windows.map((window) => window.i2t / allowedOver(scr, window.duration)));
  const judged = `${Number((100 * worst).toPrecision(3))} % of what it stands`;
  return {
    title: `${verdict.title === "" ? "A fault on a 12 V line" : verdict.title}: surge through the ${scr.subject}`,
    facts: runFacts(run, verdict),
    subtitle: `The ${scr.subject} (${scr.spec.label}) took ${show(total, "I2t")} in ${duration(to - from)}${which}; in its worst window ${judged}${scr.failed ? ", but in the end it overheated and failed" : ""}.`,
    subject: scr.subject,
    parts: partsOf(run, scr, spans[heaviest]),
    rating: { i2t: ratings.i2t, label: `one half-sine of ${duration(halfSine, 2)}` },
    windows: scr.windows.map((window) => ({ ...window, allowed: allowedOver(scr, window.duration) })),
  };
}

function allowedOver({ spec }: ScrOfRun, length: number): number {
  const window = spec.ratings.surgeWindows.find((each) => Math.abs(each.duration / length - 1) < 1e-6);
  return window === undefined ? Number.NaN : window.rms ** 2 * length;
}

function partsOf(run: Run, { current, feed, source }: ScrOfRun, { from, to }: { from: number; to: number }) {
  const { time } = run.trace;
  const over = (begin: number, end: number, at: (row: number) => number) => integral(time, begin, end, at);
  if (feed === null) {
    const label = source === "" ? "all together" : "output capacitor, regulator and line";
    return [{ label, i2t: over(from, to, (row) => current[row] ** 2) }];
  }
  const fed = (row: number) => Math.min(Math.max(feed[row], 0), Math.max(current[row], 0)) ** 2;
  const dump = over(from, to, (row) => Math.max(0, current[row] ** 2 - fed(row)));
  const fuse = meltedFuse(run);
  const capacitors = { label: run.fuses.length === 0 ? "capacitors' dump" : "what the capacitors add", i2t: dump };
  if (fuse === null || fuse.meltTime > to) {
    const label = run.fuses.length === 0 ? "from the sources" : "through the fuse, which did not melt";
    return [capacitors, { label, i2t: over(from, to, fed) }];
  }
  const melt = Math.max(from, fuse.meltTime);
  const open = Math.min(to, fuse.openTime ?? to);
  // An in-line fuse takes its own source off the line; the others go on.
  const others = fuse.subject.part === "main fuse" ? 0 : over(open, to, fed);
  return [
    capacitors,
    { label: `until ${fuseName(run, fuse.subject.owner)} melts`, i2t: over(from, melt, fed) },
    { label: "while its arc burns", i2t: over(melt, open, fed) },
    ...(others > 0 ? [{ label: "from the other sources after that", i2t: others }] : []),
  ];
}

/** With its source where several have one. */
function fuseName({ scenario }: Run, owner: string): string {
  const several = scenario.sources.filter(({ lead }) => lead.fuse !== null).length > 1;
  return several && owner !== "" ? `the fuse of ${the(owner)}` : "the fuse";
}
