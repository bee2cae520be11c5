import * as z from "zod/mini";
import { list, map } from "./build.ts";
import { name, text, words } from "./leaf.ts";
import { SCHEME_WORDS } from "./scheme-words.ts";

const ABOUT_SCHEME = "a ready-made scheme of protection, before the changes beside it";

/**
 * The list of variants of a line: words of ready-made schemes, or maps of changes in the file's own keys.
 *
 * @param line the keys of the line itself; what makes the fault stays out, so that all variants meet the same
 */
export function variantsSchema<Line extends z.core.$ZodLooseShape>(line: Line) {
  return list(
    z.union([
      words(SCHEME_WORDS, ABOUT_SCHEME),
      map({
        name: name("what it is called in the comparison; the word of its scheme when left out"),
        about: text("what is different, one line", 300),
        scheme: words(SCHEME_WORDS, ABOUT_SCHEME),
        ...line,
      }),
    ]),
    [1, 40],
    { description: "named changes of this line, for `railfault compare`; a run takes no notice of them" },
  );
}
