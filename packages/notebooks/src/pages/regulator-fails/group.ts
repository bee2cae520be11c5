import { el } from "../../controls/index.ts";
import type { Line, LineNow } from "../../line/line.ts";

/** Controls that belong together. */
export interface Group {
  readonly title: string;
  readonly controls: readonly HTMLElement[];
}

/** Shows a control only where it means something for the line. */
export function shownWhere<Of extends HTMLElement>(line: Line, control: Of, fits: (now: LineNow) => boolean): Of {
  line.follow((now) => {
    control.hidden = !fits(now);
  });
  return control;
}

/** On a phone the picture should be near: what is changed less often is folded there. */
const NARROW = "(max-width: 39.99rem)";

/**
 * Controls under a heading that folds them away.
 *
 * @param folds whether it begins folded where the page is narrow
 */
export function controlGroup({ title, controls }: Group, folds = false): HTMLDetailsElement {
  const open = !(folds && (window.matchMedia?.(NARROW).matches ?? false));
  const body = el(document, "div", { class: "control-group-body" }, ...controls);
  return el(document, "details", { class: "control-group whole", open }, el(document, "summary", {}, title), body);
}
