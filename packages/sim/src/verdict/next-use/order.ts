/**
 * In which order a person goes about a line after a fault: keep clear of what still flows, air, cut off, disconnect what cannot be switched
 * off, wait and measure, find the fault, mend, replace fuses (they would blow again into a short), reset, go back into service.
 */
const STAGES = [
  "keep clear",
  "air",
  "switch off",
  "disconnect",
  "measure",
  "find",
  "mend",
  "fuses",
  "reset",
  "try",
  "reconnect",
  "switch on",
] as const;

export type Stage = (typeof STAGES)[number];

/** One thing to do, and when. */
export interface Step {
  readonly stage: Stage;
  readonly sentence: string;
}

export const step = (stage: Stage, sentence: string): Step => ({ stage, sentence });

/** The sentences, stage by stage; within a stage as they were given. */
export const inOrder = (steps: readonly Step[]): readonly string[] =>
  STAGES.flatMap((stage) => steps.flatMap((each) => (each.stage === stage ? [each.sentence] : [])));
