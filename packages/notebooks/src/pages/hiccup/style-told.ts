import type { LineNow } from "../../line/line.ts";
import type { Answer } from "../../run/protocol.ts";
import type { LaneNow } from "./background.ts";
import type { Note } from "./card.ts";
import { type Hazard, hazardNotes, hazardOf } from "./hazards.ts";
import { outcomeOf } from "./outcome.ts";
import type { Outcome } from "./outcome-types.ts";
import { type PeakSeen, peakNote, peakOf } from "./peak.ts";
import { type Return, returnOf } from "./return.ts";
import { backSoFar, lastFound, soFar } from "./watching.ts";

/** All that is told of one style. */
export interface StyleTold {
  readonly outcome: Outcome;
  readonly back: Return;
  readonly seen: PeakSeen | null;
  readonly hazard: Hazard | null;
  readonly notes: readonly Note[];
  /** More is still to come. */
  readonly watching: boolean;
}

/**
 * What is told of a style: from the run that watched it in full, once there is one, else from what its picture shows, without a last word.
 *
 * @param lane the runs in full of this line; null: not begun
 */
export function styleTold(now: LineNow, style: string, drawn: Answer, lane: LaneNow | null): StyleTold {
  const found = lane === null ? undefined : lastFound(lane.found, style);
  const full = found?.kind === "answer" ? found.answer : null;
  const answer = full ?? drawn;
  const known = outcomeOf(answer);
  const outcome = full === null ? soFar(now, style, known) : known;
  const seen = peakOf(answer);
  return {
    outcome,
    back: full === null ? backSoFar(outcome, returnOf(answer, known)) : returnOf(answer, known),
    seen,
    hazard: hazardOf(answer.verdict),
    notes: [...(seen === null ? [] : [peakNote(seen)]), ...hazardNotes(answer.verdict)],
    watching: full === null && (lane === null || lane.busy),
  };
}
