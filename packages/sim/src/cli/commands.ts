import { capture } from "./capture.ts";
import { card } from "./card.ts";
import { check } from "./check.ts";
import type { Command } from "./command.ts";
import { compare } from "./compare.ts";
import { fit } from "./fit.ts";
import { handout } from "./handout.ts";
import { match } from "./match.ts";
import { parts } from "./parts.ts";
import { reference } from "./reference.ts";
import { reset } from "./reset.ts";
import { run } from "./run.ts";
import { schema } from "./schema.ts";
import { talk } from "./talk.ts";
import { tolerances } from "./tolerances.ts";
import { trip } from "./trip.ts";
import { whatif } from "./whatif.ts";

/** In the order of the help. */
export const commands: readonly Command[] = [
  run,
  check,
  trip,
  match,
  compare,
  tolerances,
  whatif,
  capture,
  fit,
  card,
  reset,
  handout,
  talk,
  parts,
  reference,
  schema,
];
