import { el, setText } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import { faultSentence } from "./strikes.ts";
import { whole } from "./words.ts";

/** Which fault strikes in the line in hand; while its text has errors, what was said before stays. */
export function faultLine(opened: OpenedLine) {
  const words = el(document, "span", {}, "not told while the text has errors.");
  const element = el(document, "p", { class: "run-fault" }, el(document, "strong", {}, "The fault:"), " ", words);
  const leave = opened.line.follow(({ parsed }) => {
    if (parsed.scenario !== null) setText(words, whole(faultSentence(parsed.scenario)));
  });
  return { element, leave };
}
