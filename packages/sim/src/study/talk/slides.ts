import type { Answered } from "../../report/run-scenario.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { offeredSlides } from "./offer.ts";
import type { Slide } from "./types.ts";

/** A scenario of a talk, run. */
export interface TalkPart {
  /** Its name. */
  readonly file: string;
  /** With its waveforms. */
  readonly answered: Answered;
}

/**
 * A talk of one or more faults as a person would begin it: the question with the line, the fault event by event with a picture that grows from
 * microseconds to its end, how it came out, which limit came nearest or was passed, and what to do before the next use. Headlines and sentences come from
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

/** What goes with every talk, as its last slide. */
export const cautionSlide = (): Slide => ({
  part: 0,
  shows: { kind: "words", lines: CAUTIONS },
  headline: "Cautions",
  sentence: "What was shown is a model’s, with its limits.",
});

/** Longer than any headline that a slide takes, and short enough for every disk. */
const LONGEST_NAME = 120;

/** A name for a slide's picture, its whole headline in letters that every disk takes: `03-the-crowbar-fires-23.7-us-after-the-fault`. */
export function slideName(slide: Slide, index: number): string {
  const words = [...slide.headline.normalize("NFC").toLowerCase().replaceAll("µ", "u")]
    .slice(0, LONGEST_NAME)
    .join("")
    .replace(/['’]/g, "")
    .replace(/[^\p{L}\p{M}\p{N}.]+/gu, "-")
    .replace(/(?<!\d)\.|\.(?!\d)/g, "-")
    .replace(/-{2,}/g, "-")
    .replace(/^-|-$/g, "");
  return `${String(index + 1).padStart(2, "0")}-${words === "" ? "slide" : words}`;
}
