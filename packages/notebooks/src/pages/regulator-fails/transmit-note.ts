import { drawOnTransmit } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import { unbroken } from "../../show/words.ts";
import { holdsTagged } from "../hiccup/transmit.ts";

/**
 * What a verdict on a fault does not see: a main fuse that protects well and melts as soon as the radio transmits. Hidden where it holds.
 *
 * @example display(transmitNote(opened).element)
 */
export function transmitNote(opened: OpenedLine): { readonly element: HTMLElement; leave(): void } {
  const element = el(document, "p", { class: "transmit-note", role: "status", hidden: true });
  const leave = opened.now((now) => {
    const { mainFuse: fuse = null, ambient = 25 } = now.parsed.scenario ?? {};
    const draw = fuse === null ? null : drawOnTransmit(now.parsed);
    const found = fuse === null || draw === null ? null : holdsTagged(fuse, draw, ambient);
    element.hidden = found === null || found.holds === "yes";
    if (found === null || element.hidden) element.replaceChildren();
    else
      element.replaceChildren(
        el(document, "span", { class: "state-tag", "data-tone": found.tone }, found.tag),
        ` ${unbroken(found.sentence)}`,
      );
  });
  return { element, leave };
}
