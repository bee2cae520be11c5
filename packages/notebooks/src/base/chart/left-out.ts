// What every stand-in does when it is asked after all.

/** Refuses what the site does without. `what` is the library's own name for it. */
export function leftOut(what: string): never {
  throw new Error(`The pages do without “${what}”; build/chart-parts.ts says which parts of libraries are left out.`);
}
