import { el } from "../../controls/index.ts";
import type { Talk } from "./talk.ts";

/** The talk as words, for paper: what the lists and fields hold. */
export function talkOutline(talk: Talk) {
  const element = el(document, "ol", { class: "club-outline" });
  const end = talk.follow(({ entries }) => {
    element.replaceChildren(
      ...entries.flatMap(({ slide }) =>
        slide === null
          ? []
          : [el(document, "li", {}, el(document, "strong", {}, slide.headline), ` ${slide.sentence}`)],
      ),
    );
  });
  return { element, leave: end };
}
