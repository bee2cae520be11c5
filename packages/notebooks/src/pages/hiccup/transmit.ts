import { type Fuse, type FuseHolds, holdsOnTransmit, type TransmitDraw } from "@railfault/sim";

/** Whether a fuse holds, with the tag that says so. */
export interface Holds extends FuseHolds {
  readonly tag: string;
  readonly tone: string;
}

const TAGS: Readonly<Record<FuseHolds["holds"], readonly [tag: string, tone: string]>> = {
  no: ["Would not hold", "endangered"],
  "not for long": ["Not for long", "withstood"],
  yes: ["Holds", "safe"],
};

/** What a verdict on a fault does not see of a fuse. */
export function holdsTagged(fuse: Fuse, draw: TransmitDraw, ambient: number): Holds {
  const found = holdsOnTransmit(fuse, draw, ambient);
  const [tag, tone] = TAGS[found.holds];
  return { ...found, tag, tone };
}
