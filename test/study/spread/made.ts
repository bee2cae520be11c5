import type { CrewMaker } from "../../../packages/sim/src/study/pool/deal.ts";
import type { BrokenSample } from "../../../packages/sim/src/study/pool/evaluate.ts";
import { RUN_FIGURES } from "../../../packages/sim/src/study/pool/figures.ts";
import { OUTCOMES, type Outcome } from "../../../packages/sim/src/study/pool/outcome.ts";
import { type CollectAnswer, type Collected, collect } from "../../../packages/sim/src/study/spread/collect.ts";
import { type TolerancesOptions, USUAL_OPTIONS } from "../../../packages/sim/src/study/spread/options.ts";
import { scattered } from "./scattered.ts";

/** What one run is said to have come to. */
export interface MadeUp {
  readonly outcome: Outcome;
  readonly close?: boolean;
  /** V, s, and the peak over the load's maximum. */
  readonly peak?: number;
  readonly trip?: number;
  readonly share?: number;
  readonly problem?: string;
}

/** Says what came of the values of a run. */
export type World = (values: readonly number[]) => MadeUp;

/** Runs nothing: every run came to what is said of its values. */
function saying(world: World): CrewMaker {
  return ({ varied }) => ({
    size: 1,
    run: async ({ first, values }) => {
      const count = values.length / varied.length;
      const vectors = Array.from({ length: count }, (_, k) => [
        ...values.subarray(k * varied.length, (k + 1) * varied.length),
      ]);
      const runs = vectors.map(world);
      const others = new Array<number>(RUN_FIGURES.length - 3).fill(Number.NaN);
      const figures = runs.flatMap(({ peak = Number.NaN, trip = Number.NaN, share = Number.NaN }) =>
        [peak, trip, share].concat(others),
      );
      return {
        first,
        outcomes: Uint8Array.from(runs, ({ outcome }) => OUTCOMES.indexOf(outcome)),
        close: Uint8Array.from(runs, ({ close = false }) => (close ? 1 : 0)),
        figures: Float64Array.from(figures),
        broken: runs.flatMap(({ outcome, problem }, k): BrokenSample[] =>
          problem === undefined ? [] : [{ index: first + k, kind: outcome as BrokenSample["kind"], message: problem }],
        ),
      };
    },
    close: async () => {},
  });
}

/** What a study of tolerances collects where its runs come to what is said of them. */
export function collectMade(
  world: World,
  tolerances: readonly string[],
  options: Partial<TolerancesOptions> = {},
): Promise<CollectAnswer> {
  return collect(scattered(tolerances), "hut.yaml", { ...USUAL_OPTIONS, corners: 0, ...options }, saying(world));
}

/** The same of a study that is not refused. */
export async function made(...asked: Parameters<typeof collectMade>): Promise<Collected> {
  const answer = await collectMade(...asked);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("\n"));
  return answer.collected;
}

/** A line that trips in time, its load far below its maximum. */
export const SAFE: MadeUp = { outcome: "load safe, tripped and over", peak: 14, trip: 2e-3, share: 0.9 };
export const ABOVE: MadeUp = {
  outcome: "load above its maximum, within what it stands",
  peak: 16,
  trip: 4e-3,
  share: 1.05,
};
