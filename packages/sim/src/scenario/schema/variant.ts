import { z } from "zod";
import { name, text, words } from "./leaf.ts";
import { SCHEME_WORDS } from "./scheme-words.ts";

const ABOUT_SCHEME = "a ready-made scheme of protection, before the changes beside it";

/**
 * The list of variants of a line: words of ready-made schemes, or maps of changes in the file's own keys.
 *
 * @param line the keys of the line itself; what makes the fault stays out, so that all variants meet the same
 */
export function variantsSchema<Line extends z.ZodRawShape>(line: Line) {
  return z
    .array(
      z.union([
        words(SCHEME_WORDS, ABOUT_SCHEME),
        z.strictObject({
          name: name("what it is called in the comparison; the word of its scheme when left out").optional(),
          about: text("what is different, one line").optional(),
          scheme: words(SCHEME_WORDS, ABOUT_SCHEME).optional(),
          ...line,
        }),
      ]),
    )
    .min(1)
    .max(40)
    .meta({ description: "named changes of this line, for `railfault compare`; a run takes no notice of them" });
}
