import type { LongRun } from "../result.ts";
import { type Kit, totalOf } from "./kit.ts";

/** What clamps and leads have taken so far, and what comes of that between two looks. */
export interface RoundMeans {
  readonly totals: () => readonly number[];
  readonly between: (
    before: readonly number[],
    last: readonly number[],
    period: number,
  ) => Pick<LongRun, "clamps" | "leads">;
}

/** Means of clamps and leads over a cycle, of what is integrated as it is. */
export function roundMeans(kit: Kit): RoundMeans {
  const { assembly, places } = kit;
  const clamps = [
    ...(assembly.clamp ? [{ subject: { part: "clamp", owner: "" } as const, reading: "clamp" }] : []),
    ...assembly.loads
      .filter(({ clamp }) => clamp)
      .map(({ name }) => ({ subject: { part: "load clamp", owner: name } as const, reading: `${name} clamp` })),
  ];
  const owners = [...assembly.sources, ...assembly.loads].map(({ name }) => name);
  const flows = [
    ...clamps.map(({ reading }) => places.flow(`${reading} energy`)),
    ...owners.map((owner) => places.flow(`${owner} lead`)),
  ];
  return {
    totals: () => flows.map((flow) => totalOf(kit, flow)),
    between: (before, last, period) => {
      const means = last.map((total, k) => (total - before[k]) / period);
      return {
        clamps: clamps.map(({ subject }, k) => ({ subject, meanPower: means[k] })),
        leads: owners.map((owner, k) => ({ owner, meanSquare: means[clamps.length + k] })),
      };
    },
  };
}
