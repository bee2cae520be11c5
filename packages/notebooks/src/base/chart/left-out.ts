// What every stand-in of the charting library does when it is asked after all.

/** Refuses what this site's charts do without. `what` is the library's own name for it. */
export function leftOut(what: string): never {
  throw new Error(
    `The site's charts do without “${what}”; build/chart-parts.ts says which parts of the library are left out.`,
  );
}
