import type { Run } from "../model/result.ts";
import { adiabaticI2t } from "../scenario/conductor.ts";
import { type FittedFuse, serviceDraws } from "../scenario/index.ts";
import { meltingCurrentAt } from "../scenario/melting-current.ts";
import { type FuseModel, meltingCurve } from "../scenario/parts/fuse-fit.ts";
import { fuseDuties } from "../scenario/prospective.ts";
import type { Crowbar, Fuse, Scenario } from "../scenario/types.ts";
import type { Judged } from "../verdict/types.ts";
import { duration, show, the } from "../verdict/words.ts";
import { conductions, firedScr, integral, meltedFuse, traceColumn } from "./conduction.ts";
import type { TimeCurrentCurve, TimeCurrentData } from "./figure/chart-types.ts";
import { runFacts } from "./run-facts.ts";

type Point = TimeCurrentCurve["points"][number];

/** IEC 60949 speaks of short circuits up to 5 s. */
const WIRE_TIMES = [1e-4, 5] as const;

/**
 * What the time-current figure draws of a run: melting curves from cold with their published gates, the SCR's surge withstand,
 * the leads' adiabatic withstand, the currents in peace and at the fault, and what flowed.
 *
 * @param run with its waveforms (`record` not switched off)
 * @param fits of the scenario's fuses, for their gates
 * @param service what the loads draw at their most in normal service, A; left out: by their own values and schedules
 * @returns null for a line without fuse and SCR
 * @example
 * const shown = timeCurrentData(run, verdict, parsed.fits);
 * if (shown !== null) timeCurrentFigure(shown, { document })
 */
export function timeCurrentData(
  run: Run,
  verdict: Judged,
  fits: readonly FittedFuse[],
  service?: number,
): TimeCurrentData | null {
  const { scenario } = run;
  const fuses = fuseCurves(run, fits);
  const fired = firedScr(run);
  const bar = fired?.spec ?? scenario.crowbar;
  const scr: PlacedCurve[] = bar === null || bar.ratings.surgeWindows.length < 2 ? [] : [scrCurve(bar)];
  if (fuses.length === 0 && scr.length === 0) return null;
  const placed = [...fuses, ...scr, ...wireCurves(scenario)];
  const measured = pointOf(run, fuses.length > 1);
  return {
    title: `${verdict.title === "" ? "A fault on a 12 V line" : verdict.title}: what goes first?`,
    facts: runFacts(run, verdict),
    subtitle:
      measured === null
        ? "No heavy current flowed in this run; the curves tell what would give way first."
        : `${answer(flowsThrough(placed, measured, scenario.sources.length), measured.point)}${fired?.failed ? " In the end the SCR overheated and failed." : ""}`,
    curves: placed.map(({ curve }) => curve),
    currents: currentsOf(run, verdict, service),
    point: measured?.point ?? null,
  };
}

/** A curve, and whose current its part carries. */
interface PlacedCurve {
  readonly curve: TimeCurrentCurve;
  /** In a sentence: `the fuse`, or with its place where there are several of its kind. */
  readonly name: string;
  /** Source in whose lead the part stands; null: what all of them give passes it. */
  readonly source: string | null;
}

/**
 * The parts that carried a current. What a supply's own SCR carries passes neither a fuse nor a lead of the line; what one source gives passes no
 * part of another's lead; and of what several give together nobody can say by the sum what a lead of one of them carried.
 */
function flowsThrough(
  placed: readonly PlacedCurve[],
  { of, source }: Measured,
  sources: number,
): readonly PlacedCurve[] {
  if (of === "own SCR") return placed.filter(({ curve }) => curve.role === "scr");
  return placed.filter((each) => each.source === null || each.source === source || (source === null && sources === 1));
}

function fuseCurves(run: Run, fits: readonly FittedFuse[]): PlacedCurve[] {
  const { mainFuse, sources, ambient } = run.scenario;
  const fuses: { fuse: Fuse; path: string; source: string | null }[] = [
    ...(mainFuse === null ? [] : [{ fuse: mainFuse, path: "main fuse", source: null }]),
    ...sources.flatMap(({ name, lead }, i) =>
      lead.fuse === null ? [] : [{ fuse: lead.fuse, path: `sources[${i}].lead.fuse`, source: name }],
    ),
  ];
  return fuses.map(({ fuse, path, source }) => ({
    curve: {
      label: `${fuseAt(source)} (${fuse.label}) melts, from cold`,
      role: "fuse",
      points: meltingPoints({ ...fuse, minimumMeltingCurrent: meltingCurrentAt(fuse, ambient) }),
      gates: gatesAt(fits, path),
    },
    name: fuses.length === 1 ? "the fuse" : `the ${fuseAt(source)}`,
    source,
  }));
}

const fuseAt = (source: string | null): string => (source === null ? "main fuse" : `fuse of ${the(source)}`);

/** Close together where the curve turns upright, then evenly in the logarithm. */
function meltingPoints(model: FuseModel): Point[] {
  const least = model.minimumMeltingCurrent;
  const currents = Array.from({ length: 90 }, (_, i) => least * (1 + 0.002 * 10 ** (i / 20)));
  return meltingCurve(model, currents).filter(({ time }) => time > 0 && Number.isFinite(time));
}

function gatesAt(fits: readonly FittedFuse[], path: string): TimeCurrentCurve["gates"] {
  const points = fits.find((each) => each.path === path)?.fit.points ?? [];
  return points.flatMap(({ what, current, minimum, maximum }) =>
    what === "gate" ? [{ current, minimum, maximum }] : [],
  );
}

function scrCurve({ label, ratings }: Crowbar): PlacedCurve {
  const points = ratings.surgeWindows.map(({ duration: time, rms }) => ({ current: rms, time }));
  const sorted = points.sort((a, b) => a.time - b.time);
  const curve = { label: `SCR (${label}) stands, surge RMS`, role: "scr", points: sorted, gates: [] } as const;
  return { curve, name: "the SCR", source: null };
}

function wireCurves({ sources, ambient }: Scenario): PlacedCurve[] {
  return sources.map(({ name, lead }) => {
    const area = Number((lead.copperArea * 1e6).toPrecision(3));
    const label = `lead of ${the(name)} (${area}\u00a0mm²) stands, IEC 60949`;
    const limit = Math.max(lead.insulation.shortCircuit, ambient + 1);
    const i2t = adiabaticI2t(lead.copperArea, ambient, limit);
    const points = WIRE_TIMES.map((time) => ({ current: Math.sqrt(i2t / time), time }));
    return {
      curve: { label, role: "wire", points, gates: [] },
      name: sources.length === 1 ? "the wire" : `the lead of ${the(name)}`,
      source: name,
    };
  });
}

function currentsOf(run: Run, verdict: Judged, told: number | undefined): TimeCurrentData["currents"] {
  const { scenario } = run;
  const leads = scenario.sources.map(({ name }) => traceColumn(run, name, "A"));
  const atStart = scenario.start === "dead" ? 0 : leads.reduce((sum, lead) => sum + Math.max(0, lead?.[0] ?? 0), 0);
  // A fuse must carry what the loads draw on other days too, not only what they happen to draw as the fault strikes.
  const most = told ?? serviceDraws(scenario, null).reduce((sum, { largestCurrent }) => sum + largestCurrent, 0);
  const service = Math.max(atStart, most);
  const available = Math.max(
    0,
    ...verdict.findings
      .filter(({ quantity }) => quantity === "available short-circuit current")
      .map(({ found }) => found),
  );
  const computed = Math.max(0, ...fuseDuties(scenario).map(({ available: { current } }) => current));
  // Only of a fuse that melted a second run tells the peak; else there is the bound, without the dump of output capacitors.
  const fault = available > 0 ? available : computed;
  const name = available > 0 ? "fault current, its first peak" : "lasting fault current, at most";
  return [
    ...(service > 0 && Number.isFinite(service)
      ? [
          {
            label: told === undefined ? "in service, as in this file" : "normal service, at most",
            role: "operating",
            value: service,
          } as const,
        ]
      : []),
    ...(fault > 0 && Number.isFinite(fault) ? [{ label: name, role: "fault", value: fault } as const] : []),
  ];
}

interface Measured {
  readonly point: NonNullable<TimeCurrentData["point"]>;
  readonly of: "fuse" | "SCR" | "own SCR";
  /** Source whose in-line fuse it is; null: the main fuse, or an SCR. */
  readonly source: string | null;
}

/**
 * RMS of what the fuse carried until it melted, or of what the SCR carried while it conducted longest.
 * @param several fuses: which of them melted has to be told
 */
function pointOf(run: Run, several: boolean): Measured | null {
  const fuse = meltedFuse(run);
  if (fuse?.meltingI2t && fuse.overloadTime !== null && fuse.meltTime > fuse.overloadTime) {
    const time = fuse.meltTime - fuse.overloadTime;
    const source = fuse.subject.part === "main fuse" ? null : fuse.subject.owner;
    const label = `this run: the ${several ? fuseAt(source) : "fuse"} melted, RMS`;
    return { of: "fuse", source, point: { label, current: Math.sqrt(fuse.meltingI2t / time), time } };
  }
  const scr = firedScr(run);
  if (scr === null || run.trace.thinned !== undefined) return null;
  const { time } = run.trace;
  const spans = conductions(scr, time[time.length - 1]).sort((a, b) => b.to - b.from - (a.to - a.from));
  const { from, to } = spans[0];
  const i2t = integral(time, from, to, (row) => scr.current[row] ** 2);
  if (!(to > from) || !(i2t > 0)) return null;
  const point = { label: "this run: the SCR carried, RMS", current: Math.sqrt(i2t / (to - from)), time: to - from };
  return { of: scr.source === "" ? "SCR" : "own SCR", source: null, point };
}

/** Times at the current that flowed, on straight lines in the logarithms; null beyond a curve's ends. */
function timeAt({ points }: TimeCurrentCurve, current: number): number | null {
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    const way = Math.log(current / a.current) / Math.log(b.current / a.current);
    if (way >= 0 && way <= 1) return a.time * (b.time / a.time) ** way;
  }
  return null;
}

/** Of each kind of part the one that gives way first. */
function answer(placed: readonly PlacedCurve[], { current }: Point): string {
  const told = (["fuse", "scr", "wire"] as const).flatMap((role) => {
    const lasting = placed
      .filter(({ curve }) => curve.role === role)
      .map(({ curve, name }) => ({ name, ...lasts(curve, current) }));
    const first = lasting.sort((a, b) => (a.time === b.time ? 0 : a.time - b.time))[0];
    if (first === undefined) return [];
    const { name, time, text } = first;
    if (role !== "fuse") return [{ time, text: `${name} stands ${text}` }];
    return [{ time, text: time === Infinity ? `${name} never melts` : `${name} melts after ${text}` }];
  });
  const ordered = told.sort((a, b) => (a.time === b.time ? 0 : a.time - b.time)).map(({ text }) => text);
  return `At the ${show(current, "current")} RMS of this run ${ordered.join("; ")}.`;
}

/** How long a curve allows a current: what lies beyond its ends is only known to be longer or shorter. */
function lasts(curve: TimeCurrentCurve, current: number): { time: number; text: string } {
  const time = timeAt(curve, current);
  if (time !== null) return { time, text: duration(time) };
  const times = curve.points.map((point) => point.time);
  const weak = current < Math.min(...curve.points.map((point) => point.current));
  if (weak) return { time: Number.POSITIVE_INFINITY, text: `more than ${duration(Math.max(...times))}` };
  return { time: 0, text: `less than ${duration(Math.min(...times))}` };
}
