import type { Page } from "playwright-core";

/** Longer than a picture out of sight waits before it is drawn, ms. */
const QUIET_MS = 400;

/**
 * Waits until a page stands: no run on its way, a picture in every open place for one, and nothing of it changing any more.
 * What is out of sight counts too. Throws with what is still open when that takes too long.
 *
 * @param within the only part of the page that counts, by its selector: what is computed beside it is not waited for
 */
export async function settled(page: Page, timeout = 25_000, within = "body"): Promise<void> {
  const open = await page.evaluate(
    ([quiet, patience, part]) =>
      new Promise<string[]>((resolve) => {
        const begin = performance.now();
        let changed = begin;
        const isInside = (node: Node): boolean =>
          (node instanceof Element ? node : node.parentElement)?.closest(part) != null;
        const observer = new MutationObserver((changes) => {
          if (changes.some(({ target }) => isInside(target))) changed = performance.now();
        });
        observer.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
        const pending = (): string[] => {
          const seen = (element: Element): boolean => element.checkVisibility() && isInside(element);
          const busy = [...document.querySelectorAll('[aria-busy="true"]')].filter(seen);
          const empty = [...document.querySelectorAll(".figure-picture")].filter(
            (place) => seen(place) && place.querySelector("svg, .figure-failure") === null,
          );
          const name = (element: Element): string =>
            element.closest("[aria-label]")?.getAttribute("aria-label") ?? element.className.toString();
          return [
            ...(document.querySelector("main .cell") === null ? ["no cell yet"] : []),
            ...(document.querySelector(part) === null ? [`no ${part} yet`] : []),
            ...busy.map((element) => `busy: ${name(element)}`),
            ...empty.map((element) => `no picture: ${name(element)}`),
            ...(performance.now() - changed < quiet ? ["still changing"] : []),
          ];
        };
        const look = (): void => {
          const left = pending();
          const late = performance.now() - begin > patience;
          if (left.length > 0 && !late) {
            setTimeout(look, 40);
            return;
          }
          observer.disconnect();
          resolve(left);
        };
        look();
      }),
    [QUIET_MS, timeout, within] as const,
  );
  if (open.length > 0) throw new Error(`${page.url()} does not come to rest: ${open.join("; ")}`);
}
