/** Lets others wait for what goes first. */
export function settling() {
  let round = 0;
  let busy = true;
  let waiting: (() => void)[] = [];
  return {
    busy(): void {
      round += 1;
      busy = true;
    },
    /** Null while nothing is under way. */
    wait(): Promise<void> | null {
      return busy ? new Promise((resolve) => waiting.push(resolve)) : null;
    },
    now: (): number => round,
    /** @param since what `now` gave when the end was seen: another start since then counts for more */
    settled(since: number): void {
      if (since !== round) return;
      busy = false;
      const released = waiting;
      waiting = [];
      for (const resolve of released) resolve();
    },
  };
}

/** A page that never rests must not keep anybody waiting for ever, ms. */
const AT_MOST = 1000;

/** Calls back when the frames that were asked for so far are painted and the page has a moment. */
export function afterPaint(document: Document, then: () => void): void {
  const window = document.defaultView;
  const idle = (): void => {
    if (window?.requestIdleCallback === undefined) then();
    else window.requestIdleCallback(() => then(), { timeout: AT_MOST });
  };
  // A page out of sight has no frames.
  if (window?.requestAnimationFrame === undefined || document.hidden) idle();
  else window.requestAnimationFrame(() => window.requestAnimationFrame(idle));
}
