import type { Answered } from "../../report/run-scenario.ts";
import { offeredSlides } from "./offer.ts";
import type { Slide } from "./types.ts";

/** A scenario of a talk, run. */
export interface TalkPart {
  readonly file: string;
  readonly answered: Answered;
}

/**
 * A talk of one or more faults as a person would begin it: the question with the line, the fault event by event with a picture that grows from
 * microseconds to its end, how it came out, which limit came nearest, and what to do before the next use. Headlines and sentences come from
 * the verdict; every slide is plain data, to be ordered, left out and written anew.
 *
 * @param parts scenarios that were run, with their waveforms
 * @returns slides in order
 * @example talkHtml(parts, proposeTalk(parts), { document })
 */
export function proposeTalk(parts: readonly TalkPart[]): readonly Slide[] {
  return parts.flatMap(({ answered }, part) =>
    offeredSlides(answered, part).flatMap(({ usual, slide }) => (usual ? [slide] : [])),
  );
}

/** A name for a slide's picture: `02-the-crowbar-fires`. */
export function slideName(slide: Slide, index: number): string {
  const words = slide.headline
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 40)
    .replace(/-+[a-z0-9]*$/, "");
  return `${String(index + 1).padStart(2, "0")}-${words === "" ? "slide" : words}`;
}
