/** Room between what has the focus and the answer above it, CSS pixels. */
const ROOM = 8;

/**
 * Who goes back up by keyboard comes to what stands behind an answer that stays in sight: browsers count that as seen. The page is moved until it
 * is.
 *
 * @returns ends it
 * @example const end = keepFocusInSight(document);
 */
export function keepFocusInSight(document: Document): () => void {
  const moved = ({ target }: FocusEvent): void => {
    if (!(target instanceof Element) || !target.matches(":focus-visible")) return;
    const answer = target.closest(".bench")?.querySelector(":scope > .bench-verdict");
    if (!answer || answer.contains(target)) return;
    const [head, own] = [answer.getBoundingClientRect(), target.getBoundingClientRect()];
    const covered = head.bottom + ROOM - own.top;
    if (head.top <= 1 && head.bottom > 0 && covered > 0 && own.bottom > head.top && own.left < head.right)
      document.defaultView?.scrollBy({ top: -covered, behavior: "instant" });
  };
  document.addEventListener("focusin", moved);
  return () => document.removeEventListener("focusin", moved);
}
