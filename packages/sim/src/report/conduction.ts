import { columnName } from "../model/readings.ts";
import type { FuseFindings, Run, Subject } from "../model/result.ts";
import type { Crowbar } from "../scenario/types.ts";
import { firstNotBefore } from "../trace/place.ts";

/** One SCR of a run with its current. */
export interface ScrOfRun {
  /** `SCR`, `own SCR of the supply`. */
  readonly subject: string;
  readonly spec: Crowbar;
  readonly firings: readonly number[];
  readonly stops: readonly number[];
  readonly windows: readonly { readonly duration: number; readonly i2t: number }[];
  readonly current: Float64Array;
  /** What comes in through the fuse, or the leads where there is none; null where the trace does not tell. */
  readonly feed: Float64Array | null;
  /** It grew so hot that it counts as failed short. */
  readonly failed: boolean;
  /** Who owns it; empty for the line's own. */
  readonly source: string;
}

/** A column of the trace; null where the line has no such part. */
export function traceColumn(run: Run, name: string, unit: string): Float64Array | null {
  const full = columnName(name, unit);
  return run.trace.columns.find((each) => each.name === full)?.values ?? null;
}

/** The SCR that fired: the line's own before a supply's; null where none did. */
export function firedScr(run: Run): ScrOfRun | null {
  const { crowbar, sources } = run.scenario;
  const bars = [
    ...(crowbar && run.crowbar
      ? [{ subject: "SCR", source: "", name: "crowbar", spec: crowbar, found: run.crowbar }]
      : []),
    ...run.ownCrowbars.flatMap(({ source, findings }) => {
      const supply = sources.find(({ name }) => name === source);
      if (supply?.kind !== "supply" || supply.ownCrowbar === null) return [];
      const subject = `own SCR of the ${source}`;
      return [{ subject, source, name: `${source} own crowbar`, spec: supply.ownCrowbar, found: findings }];
    }),
  ];
  for (const { subject, source, name, spec, found } of bars) {
    const current = traceColumn(run, name, "A");
    if (found.firings.length === 0 || current === null) continue;
    const feed = source === "" ? feedOf(run) : null;
    return {
      subject,
      source,
      spec,
      firings: found.firings,
      stops: found.stops,
      windows: found.worstWindows,
      current,
      feed,
      failed: found.failedShort,
    };
  }
  return null;
}

function feedOf(run: Run): Float64Array | null {
  if (run.scenario.mainFuse !== null) return traceColumn(run, "main fuse", "A");
  const leads = run.scenario.sources.map(({ name }) => traceColumn(run, name, "A"));
  const known = leads.filter((lead) => lead !== null);
  if (known.length < leads.length || known.length === 0) return null;
  return known[0].map((_, row) => known.reduce((sum, lead) => sum + lead[row], 0));
}

/** From a firing to the stop after it, or to the end of the run, s. */
export function conductions({ firings, stops }: ScrOfRun, end: number): { from: number; to: number }[] {
  return firings.map((from, i) => {
    const to = stops.find((stop) => stop > from) ?? end;
    return { from, to: Math.min(to, firings[i + 1] ?? end) };
  });
}

/** ∫ of a function of the trace's rows over a span whose ends are events, so that no row needs to be cut. */
export function integral(time: Float64Array, from: number, to: number, at: (row: number) => number): number {
  let sum = 0;
  // A long run has hundreds of conductions: each looks at its own rows only.
  for (let row = Math.max(1, firstNotBefore(time, from) + 1); row < time.length && time[row] <= to; row++) {
    sum += ((time[row] - time[row - 1]) * (at(row - 1) + at(row))) / 2;
  }
  return sum;
}

/** The first fuse in the SCR's supply that melted; null where none did. */
export function meltedFuse(run: Run): (FuseFindings & { readonly meltTime: number }) | null {
  const feeds = ({ part, owner }: Subject) =>
    part === "main fuse" || run.scenario.sources.some(({ name }) => part === "in-line fuse" && name === owner);
  const melted = run.fuses.filter(
    (fuse): fuse is FuseFindings & { readonly meltTime: number } => fuse.meltTime !== null,
  );
  return melted.filter(({ subject }) => feeds(subject)).sort((a, b) => a.meltTime - b.meltTime)[0] ?? null;
}
