import { check } from "./check.ts";
import type { Command } from "./command.ts";
import { match } from "./match.ts";
import { parts } from "./parts.ts";
import { reference } from "./reference.ts";
import { run } from "./run.ts";
import { schema } from "./schema.ts";
import { trip } from "./trip.ts";

/** In the order of the help. */
export const commands: readonly Command[] = [run, check, trip, match, parts, reference, schema];
