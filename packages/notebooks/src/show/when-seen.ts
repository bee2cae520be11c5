/** A slider's next step comes sooner than this; pictures out of sight wait for the end of the drag, ms. */
const RESTS_MS = 250;

export interface WhenSeen {
  /**
   * There is something to draw: where the place is in sight, once the caller is done, for the very next frame; what comes again before that frame
   * waits for it. Where the place is not in sight, soon after the last call.
   */
  wanted(): void;
  /** The same from within a notice of sizes, which must not change any: drawn in the next frame. */
  wantedNextFrame(): void;
  leave(): void;
}

/**
 * Draws what is in sight at once and the rest as soon as nothing new comes, so that a slider waits only for what its reader looks at.
 *
 * @param place whose being in sight counts, with a margin for who scrolls
 * @param draw never called from within `wanted`, and at most once between two frames beside the one in an animation frame
 * @example const drawing = whenSeen(document, picture, paint); drawing.wanted();
 */
export function whenSeen(document: Document, place: Element, draw: () => void): WhenSeen {
  const window = document.defaultView;
  let inSight = true;
  let waits = false;
  let frame = 0;
  let ahead = false;
  let called = false;
  let left = false;
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
  // Waiting for the frame would leave the thread idle first and let the picture miss the frame in hand after that.
  const soon = (): void => {
    if (called) return;
    if (ahead || frame !== 0 || window?.requestAnimationFrame === undefined) {
      nextFrame();
      return;
    }
    ahead = true;
    called = true;
    window.requestAnimationFrame(() => {
      ahead = false;
    });
    queueMicrotask(() => {
      called = false;
      if (waits && !left) now();
    });
  };
  const begin = (draws: () => void): void => {
    waits = true;
    if (inSight) {
      draws();
      return;
    }
    clearTimeout(timer);
    timer = setTimeout(nextFrame, RESTS_MS);
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
    wanted: () => begin(soon),
    wantedNextFrame: () => begin(nextFrame),
    leave() {
      left = true;
      observer?.disconnect();
      clearTimeout(timer);
      if (frame !== 0) window?.cancelAnimationFrame(frame);
    },
  };
}
