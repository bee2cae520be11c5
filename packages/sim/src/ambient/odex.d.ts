/**
 * What this library uses of odex 2.0.4. The package ships its TypeScript sources in place of declarations, and they
 * fail a strict check; tsconfig.json points the name `odex` here instead. Types only: nothing is loaded from this file.
 */
export type Derivative = (x: number, y: number[]) => number[];

/** Called after each accepted step; `dense` only with `denseOutput`. Returning false ends the integration. */
export type OutputFunction = (
  stepNumber: number,
  xOld: number,
  x: number,
  y: number[],
  dense: (component: number, x: number) => number,
  // biome-ignore lint/suspicious/noConfusingVoidType: the package takes an observer without a return value too.
) => boolean | void;

/** A const enum would vanish at run time; the package exports a real one. */
export declare enum Outcome {
  Converged = 0,
  MaxStepsExceeded = 1,
  EarlyReturn = 2,
}

export interface Solution {
  y: number[];
  outcome: Outcome;
  nStep: number;
  xEnd: number;
  nAccept: number;
  nReject: number;
  nEval: number;
}

export declare class Solver {
  constructor(n: number);
  n: number;
  uRound: number;
  maxSteps: number;
  initialStepSize: number;
  /** 0: the whole interval. */
  maxStepSize: number;
  maxExtrapolationColumns: number;
  /** 0: chosen from `denseOutput`; otherwise 1…5. */
  stepSizeSequence: number;
  stabilityCheckCount: number;
  stabilityCheckTableLines: number;
  denseOutput: boolean;
  denseOutputErrorEstimator: boolean;
  /** Undefined: every component. */
  denseComponents: number[] | undefined;
  interpolationFormulaDegree: number;
  stepSizeReductionFactor: number;
  stepSizeFac1: number;
  stepSizeFac2: number;
  stepSizeFac3: number;
  stepSizeFac4: number;
  stepSafetyFactor1: number;
  stepSafetyFactor2: number;
  relativeTolerance: number | number[];
  absoluteTolerance: number | number[];
  debug: boolean;
  /** Throws `Error` on unusable settings; the step limit is reported in `outcome`. */
  solve(f: Derivative, x: number, y0: number[], xEnd: number, solOut?: OutputFunction): Solution;
}
