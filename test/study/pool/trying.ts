import type { ThreadModule } from "../../../packages/sim/src/cli/threads/pool.ts";

/** A thread that does as it is told, good or bad. */
export const begin: ThreadModule<string, { kind: string; value: number }, string>["begin"] = (setup) => {
  return ({ kind, value }) => {
    if (kind === "throw") throw new Error(`no ${value}`);
    if (kind === "exit") process.exit(value);
    while (kind === "for ever");
    return `${setup} ${value}`;
  };
};
