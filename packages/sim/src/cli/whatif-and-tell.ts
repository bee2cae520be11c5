import { planeFigure } from "../report/figure/plane-figure.ts";
import { sweepFigure } from "../report/figure/sweep-figure.ts";
import type { SizeName } from "../report/figure/types.ts";
import { checkScenario } from "../report/run-scenario.ts";
import { svgText } from "../report/svg-text.ts";
import { planeData, sweepData } from "../study/whatif/figure-data.ts";
import { renderWhatIf, WHATIF_FORMAT, whatIfCsv, whatIfData } from "../study/whatif/report.ts";
import { pointAt, type WhatIf, type WhatIfOptions, whatIf } from "../study/whatif/study.ts";
import { drawn } from "./drawn.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { printStudyJson, refuseStudy } from "./study-json.ts";
import { progressOf } from "./study-progress.ts";
import type { Terminal } from "./terminal.ts";
import { threadCrew } from "./threads/crew.ts";
import { allCores } from "./threads/pool.ts";
import { type Target, writeOutput } from "./write-output.ts";

/** What is left to do once everything that can be wrong with the command line has been looked at. */
export interface WhatIfRequest {
  readonly file: string;
  readonly options: WhatIfOptions;
  /** 0: all cores. */
  readonly threads: number;
  /** A point that is written instead of a study; null: none. */
  readonly at: string | null;
  readonly targets: readonly (Target & { readonly kind: "csv" | "svg" | "png" | "scenario" })[];
  readonly figure: { readonly size: SizeName; readonly scheme: "light" | "dark" };
  readonly json: boolean;
}

/** Studies or writes one point, prints, writes; gives the exit status. */
export async function whatIfAndTell(request: WhatIfRequest, terminal: Terminal): Promise<number> {
  const { file, options, threads, at, targets, json } = request;
  const text = readInput(file, LARGEST_SCENARIO);
  if (at !== null) {
    const point = pointAt(text, file, options, at);
    if (typeof point !== "string") return refuseStudy(WHATIF_FORMAT, point, json, terminal);
    for (const target of targets.filter(({ kind }) => kind === "scenario")) {
      writeOutput(target, [point]);
      terminal.say(`${target.option}: ${target.path} written`);
    }
    return 0;
  }
  const checked = checkScenario(text, file);
  if (checked.scenario === null) return refuseStudy(WHATIF_FORMAT, checked.issues, json, terminal);
  const answer = await whatIf(text, file, options, threadCrew(threads === 0 ? allCores() : threads), {
    progress: progressOf(terminal),
  });
  if (answer.kind === "refused") return refuseStudy(WHATIF_FORMAT, answer.issues, json, terminal);
  const { study } = answer;
  if (json) printStudyJson(WHATIF_FORMAT, { status: "answered", exitStatus: 0, ...whatIfData(study) }, terminal);
  else terminal.out(renderWhatIf(study, terminal.width));
  await writeTargets(study, request, terminal);
  return 0;
}

async function writeTargets(study: WhatIf, { targets, figure }: WhatIfRequest, terminal: Terminal): Promise<void> {
  let svg: string | null = null;
  for (const target of targets) {
    if (target.kind === "csv") writeOutput(target, whatIfCsv(study));
    else {
      svg ??= await svgText((document) => {
        const look = { document, ...figure };
        return study.y === null ? sweepFigure(sweepData(study), look) : planeFigure(planeData(study), look);
      });
      writeOutput(target, [await drawn(svg, target.kind, figure.size)]);
    }
    terminal.say(`${target.option}: ${target.path} written`);
  }
}
