import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { serveDist } from "../../../packages/notebooks/build/serve-dist.ts";
import { startBrowser } from "../../support/browser.ts";
import { builtSite } from "../../support/built-site.ts";

/** A profile with one tab in it, as its first reader finds it. */
export interface Tab {
  readonly context: BrowserContext;
  readonly page: Page;
}

/** The built site, served, and a browser. */
export interface Place {
  readonly folder: string;
  readonly url: string;
  readonly browser: Browser;
  /** A profile that nobody else gets. */
  profile(options: BrowserContextOptions): Promise<BrowserContext>;
  /** A tab in an empty profile; one that was handed back, where there is one of these options. */
  take(options: BrowserContextOptions): Promise<Tab>;
  /** Empties a tab for the next reader. */
  handBack(tab: Tab): Promise<void>;
  close(): Promise<void>;
}

/** A file of the site that does nothing. */
const NOTHING = "favicon.svg";

/**
 * Opens the site in a browser. A tab that was read already has its process and the compiled code of the site: half the work of a visit. What it
 * kept, listened to and was told to look like is taken away before it is handed out again; one that cannot be emptied is thrown away.
 */
export async function openPlace(): Promise<Place> {
  const folder = await builtSite();
  const site = await serveDist({ folder, maxAge: 3600 });
  const browser = await startBrowser();
  const made = new Map<Tab, { readonly kind: string; readonly options: BrowserContextOptions; usable: boolean }>();
  const free: Tab[] = [];

  const profile = async (options: BrowserContextOptions): Promise<BrowserContext> => {
    const context = await browser.newContext(options);
    context.setDefaultTimeout(12_000);
    return context;
  };

  async function emptied({ context, page }: Tab, options: BrowserContextOptions): Promise<void> {
    await Promise.all(context.pages().flatMap((each) => (each === page ? [] : [each.close()])));
    page.removeAllListeners();
    await page.emulateMedia({ media: null, reducedMotion: null, forcedColors: null, contrast: null });
    await page.emulateMedia({ colorScheme: options.colorScheme ?? null });
    if (options.viewport) await page.setViewportSize(options.viewport);
    await page.mouse.move(0, 0);
    // A page writes down what is in hand when it is left: first away, then empty.
    await page.goto(`${site.url}${NOTHING}`, { timeout: 5000 });
    await page.evaluate(() => sessionStorage.clear());
    const session = await context.newCDPSession(page);
    await session.send("Storage.clearDataForOrigin", { origin: new URL(site.url).origin, storageTypes: "all" });
    await session.send("Page.resetNavigationHistory");
    await session.detach();
    await context.clearCookies();
  }

  return {
    folder,
    url: site.url,
    browser,
    profile,
    async take(options) {
      const kind = JSON.stringify(options);
      const at = free.findIndex((tab) => made.get(tab)?.kind === kind);
      if (at >= 0) return free.splice(at, 1)[0];
      const context = await profile(options);
      const tab = { context, page: await context.newPage() };
      const state = { kind, options, usable: true };
      made.set(tab, state);
      tab.page.once("crash", () => {
        state.usable = false;
      });
      return tab;
    },
    async handBack(tab) {
      const state = made.get(tab);
      try {
        if (!state?.usable || tab.page.isClosed()) throw new Error("nobody can read in it any more");
        await emptied(tab, state.options);
        tab.page.once("crash", () => {
          state.usable = false;
        });
        free.push(tab);
      } catch {
        made.delete(tab);
        await tab.context.close();
      }
    },
    async close() {
      await browser.close();
      await site.close();
    },
  };
}
