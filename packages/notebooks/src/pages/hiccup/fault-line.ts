import { el, setText } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import { unbroken } from "../../show/words.ts";
import { faultSentence } from "./strikes.ts";

/** Which fault strikes in the line in hand; while its text has errors, what was said before stays. */
export function faultLine(opened: OpenedLine) {
  const words = el(document, "span");
  const element = el(document, "p", { class: "run-fault" }, el(document, "strong", {}, "The fault:"), " ", words);
  const leave = opened.line.follow(({ parsed }) => {
    if (parsed.scenario !== null) setText(words, unbroken(faultSentence(parsed.scenario)));
  });
  return { element, leave };
}
