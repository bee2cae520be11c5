import type { Page } from "playwright-core";

/** What is wrong with where a page's texts stand, one sentence each. */
export interface Fit {
  /** Pixels by which the page is wider than its window. */
  readonly sideways: number;
  readonly overlaps: readonly string[];
  readonly clipped: readonly string[];
  /** How many boxes were looked at. */
  readonly boxes: number;
}

/** Measures every visible text of a page where it stands, pictures' texts included. */
export function fitOf(page: Page): Promise<Fit> {
  return page.evaluate(() => {
    interface Box {
      readonly text: string;
      readonly owner: Element;
      readonly left: number;
      readonly right: number;
      readonly top: number;
      readonly bottom: number;
    }
    const short = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text);
    const root = document.documentElement;
    const hiddenOnPurpose = (element: Element): boolean =>
      element.closest(".unseen, .skip-link, [popover]:not(:popover-open), noscript, title, desc, style") !== null;
    const clips = (element: Element): { hard: DOMRect | null; soft: DOMRect | null } => {
      // Hard clips cut a text off; soft ones (scrolled regions) let their reader scroll.
      let hard: DOMRect | null = null;
      let soft: DOMRect | null = null;
      for (let at: Element | null = element; at !== null && at !== root; at = at.parentElement) {
        const { overflowX, overflowY, textOverflow } = getComputedStyle(at);
        const values = [overflowX, overflowY];
        const scrolls = values.some((value) => value === "auto" || value === "scroll");
        if (scrolls) soft ??= at.getBoundingClientRect();
        else if (values.some((value) => value === "hidden" || value === "clip")) {
          // A title in full is one pointer away.
          const told = textOverflow === "ellipsis" && at.closest("[title]") !== null;
          if (told) soft ??= at.getBoundingClientRect();
          else hard ??= at.getBoundingClientRect();
        }
      }
      return { hard, soft };
    };
    const boxes: Box[] = [];
    const clipped: string[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const text = node.textContent?.replace(/\s+/g, " ").trim() ?? "";
      const owner = node.parentElement;
      if (text === "" || owner === null || hiddenOnPurpose(owner)) continue;
      if (!owner.checkVisibility({ opacityProperty: true, visibilityProperty: true, contentVisibilityAuto: true }))
        continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const rects = [...range.getClientRects()].filter(({ width, height }) => width > 1 && height > 1);
      if (rects.length === 0) continue;
      const { hard, soft } = clips(owner);
      for (const rect of rects) {
        const { top, bottom } = rect;
        let { left, right } = rect;
        const slack = 1.5;
        if (
          hard !== null &&
          (left < hard.left - slack ||
            right > hard.right + slack ||
            top + (bottom - top) / 4 < hard.top ||
            bottom - (bottom - top) / 4 > hard.bottom)
        )
          clipped.push(`“${short(text)}” is cut off by its surroundings`);
        else if (soft === null && (left < -slack || right > root.clientWidth + slack))
          clipped.push(
            `“${short(text)}” stands beyond the window (${Math.round(left)} to ${Math.round(right)} of ${root.clientWidth})`,
          );
        // What is scrolled out of its region covers nothing.
        if (soft !== null) [left, right] = [Math.max(left, soft.left), Math.min(right, soft.right)];
        const inside = left < right && (soft === null || (bottom > soft.top && top < soft.bottom));
        if (inside) boxes.push({ text, owner, left, right, top, bottom });
      }
    }
    for (const field of document.querySelectorAll("input[type=text], input[type=search], select"))
      if (
        field.checkVisibility() &&
        field.scrollWidth > field.clientWidth + 1 &&
        field.getAttribute("readonly") === null
      )
        clipped.push(`the field “${field.getAttribute("aria-label") ?? field.id}” is too narrow for what it says`);
    // Letters are lower than their line: what only touches there does not cover anything.
    const ink = boxes.map((box) => {
      const lean = (box.bottom - box.top) / 4;
      return { ...box, left: box.left + 0.5, right: box.right - 0.5, top: box.top + lean, bottom: box.bottom - lean };
    });
    ink.sort((a, b) => a.top - b.top);
    const overlaps: string[] = [];
    for (let i = 0; i < ink.length; i++)
      for (let k = i + 1; k < ink.length && ink[k].top < ink[i].bottom; k++) {
        const [a, b] = [ink[i], ink[k]];
        const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        // Parts of one formula may stand close.
        const formula = a.owner.closest("math");
        // A shortened text is measured as it would be in full, too.
        if (a.owner === b.owner && getComputedStyle(a.owner).textOverflow === "ellipsis") continue;
        if (wide > 1 && high > 0.5 && (formula === null || formula !== b.owner.closest("math")))
          overlaps.push(
            `“${short(a.text)}” and “${short(b.text)}” at ${Math.round(a.left)}, ${Math.round(a.top + scrollY)}`,
          );
      }
    return {
      sideways: Math.max(0, root.scrollWidth - root.clientWidth),
      overlaps,
      clipped: [...new Set(clipped)],
      boxes: ink.length,
    };
  });
}
