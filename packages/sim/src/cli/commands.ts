import type { Command } from "./command.ts";
import { run } from "./run.ts";

/** In the order of the help. */
export const commands: readonly Command[] = [run];
