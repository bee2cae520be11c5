import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { whenSeen } from "../../../packages/notebooks/src/show/when-seen.ts";

/** A window whose frames and sight are in the test's hand. */
function scene() {
  const frames: (() => void)[] = [];
  const held: { tell: (isIntersecting: boolean) => void; margin: string | undefined; watched: boolean } = {
    tell: () => {},
    margin: undefined,
    watched: false,
  };
  class Observer {
    constructor(told: (entries: { isIntersecting: boolean }[]) => void, options?: { rootMargin?: string }) {
      held.margin = options?.rootMargin;
      held.tell = (isIntersecting) => told([{ isIntersecting }]);
    }
    observe(): void {
      held.watched = true;
    }
    disconnect(): void {
      held.watched = false;
    }
  }
  const window = {
    requestAnimationFrame: (draw: () => void) => frames.push(draw),
    cancelAnimationFrame: (id: number) => void frames.splice(id - 1, 1),
    IntersectionObserver: Observer,
  };
  const frame = (): void => {
    for (const draw of frames.splice(0)) draw();
  };
  return { document: { defaultView: window } as unknown as Document, held, frame };
}

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** What was put off until the caller is done. */
const done = (): Promise<void> => Promise.resolve();

it("draws what is in sight for the next frame, once the caller is done and once only", async () => {
  const { document, frame } = scene();
  const draw = vi.fn();
  const drawing = whenSeen(document, {} as Element, draw);
  drawing.wanted();
  expect(draw).not.toHaveBeenCalled();
  await done();
  expect(draw).toHaveBeenCalledTimes(1);
  frame();
  frame();
  expect(draw).toHaveBeenCalledTimes(1);
});

it("draws what comes again before the frame in that frame, once for all of it", async () => {
  const { document, frame } = scene();
  const draw = vi.fn();
  const drawing = whenSeen(document, {} as Element, draw);
  drawing.wanted();
  await done();
  for (let i = 0; i < 4; i++) {
    drawing.wanted();
    await done();
  }
  expect(draw).toHaveBeenCalledTimes(1);
  frame();
  expect(draw).toHaveBeenCalledTimes(2);
  drawing.wanted();
  await done();
  expect(draw).toHaveBeenCalledTimes(3);
});

it("draws in the next frame what a notice of sizes asks for", async () => {
  const { document, frame } = scene();
  const draw = vi.fn();
  whenSeen(document, {} as Element, draw).wantedNextFrame();
  await done();
  expect(draw).not.toHaveBeenCalled();
  frame();
  expect(draw).toHaveBeenCalledTimes(1);
});

it("waits out of sight until nothing new comes, then draws the newest once", () => {
  const { document, held, frame } = scene();
  const draw = vi.fn();
  const drawing = whenSeen(document, {} as Element, draw);
  held.tell(false);
  for (let move = 0; move < 5; move++) {
    drawing.wanted();
    vi.advanceTimersByTime(100);
    frame();
  }
  expect(draw).not.toHaveBeenCalled();
  vi.advanceTimersByTime(300);
  frame();
  vi.advanceTimersByTime(1000);
  frame();
  expect(draw).toHaveBeenCalledTimes(1);
});

it("draws what waits as soon as it comes into sight, and nothing where nothing waits", () => {
  const { document, held, frame } = scene();
  const draw = vi.fn();
  const drawing = whenSeen(document, {} as Element, draw);
  held.tell(false);
  drawing.wanted();
  held.tell(true);
  frame();
  expect(draw).toHaveBeenCalledTimes(1);
  vi.advanceTimersByTime(1000);
  held.tell(false);
  held.tell(true);
  frame();
  expect(draw).toHaveBeenCalledTimes(1);
});

it("draws nothing any more once left", async () => {
  const { document, held, frame } = scene();
  const draw = vi.fn();
  const drawing = whenSeen(document, {} as Element, draw);
  drawing.wanted();
  held.tell(false);
  drawing.leave();
  const early = whenSeen(document, {} as Element, draw);
  early.wanted();
  early.leave();
  await done();
  vi.advanceTimersByTime(1000);
  frame();
  expect(draw).not.toHaveBeenCalled();
  expect(held.watched).toBe(false);
});

it("draws at once where there are no frames and no sight", () => {
  const draw = vi.fn();
  whenSeen({ defaultView: null } as unknown as Document, {} as Element, draw).wanted();
  expect(draw).toHaveBeenCalledTimes(1);
});
