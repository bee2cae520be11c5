import { type Fuse, type FuseHolds, holdsOnTransmit, type TransmitDraw } from "@railfault/sim";

/** Whether a fuse holds, with the tag that says so. */
export interface Holds extends FuseHolds {
  readonly tag: string;
  readonly tone: string;
}

const TAGS: Readonly<Record<FuseHolds["holds"], Pick<Holds, "tag" | "tone">>> = {
  no: { tag: "Would not hold", tone: "endangered" },
  "not for long": { tag: "Not for long", tone: "withstood" },
  yes: { tag: "Holds", tone: "safe" },
};

/** What a verdict on a fault does not see of a fuse. */
export function holdsTagged(fuse: Fuse, draw: TransmitDraw, ambient: number): Holds {
  const found = holdsOnTransmit(fuse, draw, ambient);
  return { ...found, ...TAGS[found.holds] };
}
