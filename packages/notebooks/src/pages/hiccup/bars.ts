import type { Crowbar, CrowbarFindings, Run } from "@railfault/sim";

/** An SCR of a run. */
export interface Bar {
  readonly found: CrowbarFindings;
  /** Null where its supply is not among the scenario's. */
  readonly spec: Crowbar | null;
  /** Its part and owner, as events name them. */
  readonly part: "crowbar" | "own crowbar";
  readonly owner: string;
  /** What its columns of the trace begin with. */
  readonly column: string;
}

/** The line's SCR and those inside its supplies. */
export function barsOf(run: Run): readonly Bar[] {
  const own = run.ownCrowbars.map(({ source, findings }): Bar => {
    const supply = run.scenario.sources.find(({ name }) => name === source);
    return {
      found: findings,
      spec: supply?.kind === "supply" ? supply.ownCrowbar : null,
      part: "own crowbar",
      owner: source,
      column: `${source.replaceAll(/\s+/g, "_")}_own_crowbar`,
    };
  });
  if (run.crowbar === null) return own;
  return [{ found: run.crowbar, spec: run.scenario.crowbar, part: "crowbar", owner: "", column: "crowbar" }, ...own];
}

/** What was recorded of an SCR; null where the run kept no waveforms. */
export function recorded(run: Run, { column }: Bar, what: "A" | "junction_degC"): ArrayLike<number> | null {
  const values = run.trace.columns.find(({ name }) => name === `${column}_${what}`)?.values;
  return values === undefined || values.length === 0 ? null : values;
}

/** Current through an SCR when a run ends, A. */
export function lastCurrent(run: Run, bar: Bar): number | null {
  const values = recorded(run, bar, "A");
  return values === null ? null : values[values.length - 1];
}

/** Current through an SCR just before an instant, s: of an event's two rows the first, since the second tells what it has become. */
export function currentAt(run: Run, bar: Bar, instant: number): number | null {
  const values = recorded(run, bar, "A");
  if (values === null) return null;
  const row = run.trace.time.findIndex((time) => time >= instant);
  return values[row < 0 ? values.length - 1 : row];
}
