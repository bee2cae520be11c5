/** A slider's next step comes sooner than this; pictures out of sight wait for the end of the drag, ms. */
const RESTS_MS = 250;

export interface WhenSeen {
  /** There is something to draw: in the next frame where the place is in sight, soon after the last call where it is not. */
  wanted(): void;
  leave(): void;
}

/**
 * Draws what is in sight at once and the rest as soon as nothing new comes, so that a slider waits only for what its reader looks at.
 *
 * @param place whose being in sight counts, with a margin for who scrolls
 * @param draw called in an animation frame
 * @example const drawing = whenSeen(document, picture, paint); drawing.wanted();
 */
export function whenSeen(document: Document, place: Element, draw: () => void): WhenSeen {
  const window = document.defaultView;
  let inSight = true;
  let waits = false;
  let frame = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const now = (): void => {
    frame = 0;
    clearTimeout(timer);
    waits = false;
    draw();
  };
  const nextFrame = (): void => {
    if (frame !== 0) return;
    if (window?.requestAnimationFrame === undefined) now();
    else frame = window.requestAnimationFrame(now);
  };
  const observer =
    window?.IntersectionObserver === undefined
      ? null
      : new window.IntersectionObserver(
          (entries) => {
            inSight = entries[entries.length - 1].isIntersecting;
            if (inSight && waits) nextFrame();
          },
          { rootMargin: "10% 0px" },
        );
  observer?.observe(place);

  return {
    wanted() {
      waits = true;
      if (inSight) {
        nextFrame();
        return;
      }
      clearTimeout(timer);
      timer = setTimeout(nextFrame, RESTS_MS);
    },
    leave() {
      observer?.disconnect();
      clearTimeout(timer);
      if (frame !== 0) window?.cancelAnimationFrame(frame);
    },
  };
}
