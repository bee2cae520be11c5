import type { Run } from "../model/result.ts";
import type { FittedFuse } from "../scenario/index.ts";
import type { Judged, Verdict } from "../verdict/types.ts";
import { faultFigure } from "./figure/fault-figure.ts";
import { headroomFigure } from "./figure/headroom-figure.ts";
import { heatFigure } from "./figure/heat-figure.ts";
import { surgeBarsFigure } from "./figure/surge-figure.ts";
import { timeCurrentFigure } from "./figure/time-current-figure.ts";
import type { FigureOptions, PanelName, PictureOptions, WaveformData } from "./figure/types.ts";
import { withstandFigure } from "./figure/withstand-figure.ts";
import { headroomCsv, heatCsv, surgeCsv, timeCurrentCsv, waveformCsv, withstandCsv } from "./figure-csv.ts";
import { figureData } from "./figure-data.ts";
import { headroomData } from "./figure-data-headroom.ts";
import { heatData } from "./figure-data-heat.ts";
import { surgeData } from "./figure-data-surge.ts";
import { timeCurrentData } from "./figure-data-time-current.ts";
import { currentsData, statesData } from "./figure-data-views.ts";
import { withstandData } from "./figure-data-withstand.ts";

/** What a picture of a run may show. */
export type FigureName = "fault" | "currents" | "states" | "time-current" | "surge" | "withstand" | "heat" | "headroom";

/** What figures are made of. */
export interface FigureSource {
  /** With its waveforms. */
  readonly run: Run;
  /** On the same run. */
  readonly verdict: Verdict;
  /** Of the scenario's fuses, for their gates. */
  readonly fits: readonly FittedFuse[];
}

/** Time scale and range matter only to figures over time. */
export type RunFigureOptions = PictureOptions &
  Pick<FigureOptions, "timeScale" | "range"> & {
    /** Stands above the figure in the place of its own title and sentence. */
    readonly heading?: { readonly title: string; readonly subtitle: string };
  };

/** One figure of one run, ready to be drawn. */
export interface FigureOfRun {
  /** Of the figure, unless a heading takes its place. */
  readonly title: string;
  /** @returns an element that is not yet part of the document */
  draw(options: RunFigureOptions): SVGSVGElement;
  /** What is drawn, as a table: lines with their CR LF. */
  csv(): Iterable<string>;
}

/** Why a run has no such figure. */
export interface NoFigure {
  /** The reason, as a clause without a capital: `no SCR fired in this run, so …`. */
  readonly missing: string;
}

/** A kind of figure. */
export interface RunFigure {
  /** By which `figureOfRun` and the command know it. */
  readonly name: FigureName;
  /** What it answers. */
  readonly question: string;
  /** What it shows, for a list of choices. */
  readonly shows: string;
  /** The figure of one run, or the reason why there is nothing to draw. */
  of(source: FigureSource): FigureOfRun | NoFigure;
}

/**
 * Every kind of figure, in the order in which a reader asks: one list for the command, for pages and for tests.
 *
 * @example
 * for (const { name, of } of figures) {
 *   const figure = of({ run, verdict, fits: parsed.fits });
 *   if ("missing" in figure) console.log(name, figure.missing);
 *   else container.append(figure.draw({ document, id: name }));
 * }
 */
export const figures: readonly RunFigure[] = [
  {
    name: "fault",
    question: "What did the radio see, and what did each device do?",
    shows: "voltages, currents, states",
    of: ({ run, verdict }) => overTime(run, () => figureData(run, verdict), ["voltage", "current", "states"], "fault"),
  },
  {
    name: "currents",
    question: "What flowed, and what may flow?",
    shows: "currents with the limits of fuses and SCR",
    of: ({ run, verdict }) => overTime(run, () => currentsData(run, verdict), ["current"], "currents"),
  },
  {
    name: "states",
    question: "Which device did what, and when?",
    shows: "what each device did",
    of: ({ run, verdict }) => overTime(run, () => statesData(run, verdict), ["states"], "states"),
  },
  {
    name: "time-current",
    question: "What goes first, fuse, SCR or wire?",
    shows: "what goes first: fuse, SCR or wire",
    of: judged(({ run, verdict, fits }) => {
      const data = timeCurrentData(run, verdict, fits);
      if (data === null) return { missing: "this line has neither fuse nor SCR, so there are no curves to draw" };
      return {
        title: data.title,
        draw: ({ heading, ...options }) => timeCurrentFigure({ ...data, ...heading }, options),
        csv: () => timeCurrentCsv(data),
      };
    }),
  },
  {
    name: "surge",
    question: "How much of the SCR's surge was used up?",
    shows: "I²t through the SCR",
    of: judged(({ run, verdict }) => {
      const data = surgeData(run, verdict);
      if (data === null && run.trace.thinned !== undefined)
        return { missing: "rows of this long run were left out to save memory, so its surge cannot be summed up" };
      if (data === null) return { missing: "no SCR fired in this run, so there is no surge to draw" };
      return {
        title: data.title,
        draw: ({ heading, ...options }) => surgeBarsFigure({ ...data, ...heading }, options),
        csv: () => surgeCsv(data),
      };
    }),
  },
  {
    name: "withstand",
    question: "How long was the load above which voltage, and how long does it stand that?",
    shows: "longest time above each voltage, and what the load stands",
    of: judged(({ run, verdict }) => {
      if (!advanced(run)) return nowhere;
      const data = withstandData(run, verdict);
      if (data === null) return { missing: "no load has a withstand curve, and none was above its maximum" };
      return {
        title: data.title,
        draw: ({ heading, ...options }) => withstandFigure({ ...data, ...heading }, options),
        csv: () => withstandCsv(data),
      };
    }),
  },
  {
    name: "heat",
    question: "How hot did the SCR grow, and how near did the fuse come to melting?",
    shows: "junction temperature and the fuses' way to melting",
    of: judged(({ run, verdict }) => {
      if (!advanced(run)) return nowhere;
      const data = heatData(run, verdict);
      if (data === null) return { missing: "this line has neither SCR, clamp nor fuse, so there is no heat to draw" };
      return {
        title: data.title,
        draw: ({ heading, ...options }) => heatFigure({ ...data, ...heading }, options),
        csv: () => heatCsv(data),
      };
    }),
  },
  {
    name: "headroom",
    question: "Which limit was passed, or came nearest?",
    shows: "every watched limit",
    of: judged(({ run, verdict }) => {
      const data = headroomData(verdict, run);
      if (data.limits.length === 0) return { missing: "nothing in this run has a limit that could be drawn" };
      return {
        title: data.title,
        draw: ({ heading, ...options }) => headroomFigure({ ...data, ...heading }, options),
        csv: () => headroomCsv(data),
      };
    }),
  },
];

/**
 * One figure of a run by its name.
 *
 * @param of a run with its waveforms, its verdict and the fits of its fuses
 * @returns what draws it, or why there is none
 * @throws RangeError for a name that is not in `figures`
 * @example
 * const result = runScenario(text, "hut.yaml");
 * if (result.kind === "answered") figureOfRun("headroom", result);
 */
export function figureOfRun(
  name: FigureName,
  of: Pick<FigureSource, "run" | "verdict"> & { readonly parsed: { readonly fits: readonly FittedFuse[] } },
): FigureOfRun | NoFigure {
  const figure = figures.find((each) => each.name === name);
  if (figure === undefined)
    throw new RangeError(`there is no figure "${name}"; known are ${figures.map((each) => each.name).join(", ")}`);
  return figure.of({ run: of.run, verdict: of.verdict, fits: of.parsed.fits });
}

const nowhere: NoFigure = { missing: "there is no figure of a run that did not get anywhere" };

function advanced({ trace: { time } }: Run): boolean {
  return time.length > 1 && time[time.length - 1] > time[0];
}

function overTime(
  run: Run,
  make: () => WaveformData,
  panels: readonly PanelName[],
  name: FigureName,
): FigureOfRun | NoFigure {
  if (!advanced(run)) return nowhere;
  const data = make();
  const nothing = panels.length === 1 && (panels[0] === "current" ? data.currents : data.states).length === 0;
  if (nothing) return { missing: `this line has nothing that a figure of ${name} could show` };
  return {
    title: data.title,
    draw: ({ heading, ...options }) =>
      faultFigure({ ...data, ...heading }, { id: `${name}-figure`, ...options, panels }),
    csv: () => waveformCsv(data, panels),
  };
}

/** Figures that hold what was found against ratings. */
function judged(
  make: (source: Omit<FigureSource, "verdict"> & { readonly verdict: Judged }) => FigureOfRun | NoFigure,
): RunFigure["of"] {
  return ({ run, verdict, fits }) =>
    verdict.kind === "not a verdict"
      ? { missing: "a run without a verdict has nothing that could be held against ratings" }
      : make({ run, verdict, fits });
}
