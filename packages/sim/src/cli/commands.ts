import { check } from "./check.ts";
import { compare } from "./compare.ts";
import type { Command } from "./command.ts";
import { parts } from "./parts.ts";
import { reference } from "./reference.ts";
import { run } from "./run.ts";
import { schema } from "./schema.ts";

/** In the order of the help. */
export const commands: readonly Command[] = [run, check, compare, parts, reference, schema];
