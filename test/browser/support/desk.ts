import type { BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll } from "vitest";
import { watched } from "../../support/browser.ts";
import { settled } from "./settled.ts";
import { openPlace, type Place, type Tab } from "./tabs.ts";

/** A page of the built site in a tab, watched from before its first request. */
export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  /** All that a page must not do, and did so far: talk in the console, ask elsewhere, ask for what is not there. */
  wrong(): readonly string[];
  /** Closes it before the test ends. */
  leave(): Promise<void>;
}

export interface VisitOptions extends BrowserContextOptions {
  /** Width of the window, CSS pixels. */
  readonly width?: number;
  readonly height?: number;
  /** A profile of its own unless one is given: what one page keeps, the next one finds. */
  readonly context?: BrowserContext;
  /** Runs in the page before anything of its own. */
  readonly before?: () => void;
  /** Whether to wait until everything stands; default true. */
  readonly settle?: boolean;
}

export interface Desk {
  readonly url: string;
  readonly folder: string;
  context(options?: VisitOptions): Promise<BrowserContext>;
  /** Opens a page by its file name, with what follows it in an address. */
  visit(path: string, options?: VisitOptions): Promise<Visit>;
}

/** One for all files of a process that do not want their own. */
const shared: { place?: Promise<Place> } = {};

/** How a file's visits are kept apart. */
interface DeskOptions {
  /** One visit is looked at by several tests: profiles stay until the file ends. */
  readonly keep?: boolean;
  /** Each visit is the browser's first: nothing is compiled or fetched yet. */
  readonly cold?: boolean;
}

/**
 * The built site and a browser for all tests of a file. What a visit leaves in its profile is gone after each test, unless `keep` says
 * otherwise.
 *
 * @example const desk = openDesk(); test("…", async () => { const { page, wrong } = await desk.visit("index.html"); });
 */
export function openDesk({ keep = false, cold = false }: DeskOptions = {}): Desk {
  const opened: { place?: Place } = {};
  const contexts: BrowserContext[] = [];
  const tabs: Tab[] = [];
  beforeAll(async () => {
    shared.place ??= openPlace().catch((error: unknown) => {
      delete shared.place;
      throw error;
    });
    opened.place = await shared.place;
  }, 240_000);
  const closeAll = async (): Promise<void> => {
    await Promise.all([
      ...contexts.splice(0).map((context) => context.close()),
      ...tabs.splice(0).map((tab) => opened.place!.handBack(tab)),
    ]);
  };
  if (!keep) afterEach(closeAll, 60_000);
  afterAll(closeAll, 60_000);

  const profileOf = (options: VisitOptions): BrowserContextOptions => {
    const { width = 1200, height = 900, before: _, context: __, settle: ___, ...rest } = options;
    return { viewport: { width, height }, colorScheme: "light", ...rest };
  };
  const context = async (options: VisitOptions = {}): Promise<BrowserContext> => {
    const made = await opened.place!.profile(profileOf(options));
    if (options.before) await made.addInitScript(options.before);
    contexts.push(made);
    return made;
  };
  const tabFor = async (options: VisitOptions): Promise<Tab> => {
    if (options.context || options.before || keep || cold) {
      const own = options.context ?? (await context(options));
      return { context: own, page: await own.newPage() };
    }
    const tab = await opened.place!.take(profileOf(options));
    tabs.push(tab);
    return tab;
  };
  return {
    get url() {
      return opened.place!.url;
    },
    get folder() {
      return opened.place!.folder;
    },
    context,
    async visit(path, options = {}) {
      const tab = await tabFor(options);
      const { url } = opened.place!;
      const { page, complaints, foreign } = watched(tab.page, url);
      const failed: string[] = [];
      page.on("requestfailed", (request) => {
        const why = request.failure()?.errorText ?? "";
        // A page that is left asks for nothing any more.
        if (why !== "net::ERR_ABORTED") failed.push(`${request.url()}: ${why}`);
      });
      page.on("response", (response) => {
        if (response.status() >= 400) failed.push(`${response.url()}: ${response.status()}`);
      });
      await page.goto(`${url}${path}`);
      if (options.settle !== false) await settled(page);
      return {
        page,
        context: tab.context,
        wrong: () => [
          ...complaints.map((each) => `console: ${each}`),
          ...foreign.map((each) => `asked elsewhere: ${each}`),
          ...failed.map((each) => `request failed: ${each}`),
        ],
        leave: async () => {
          const at = tabs.indexOf(tab);
          if (at < 0) await page.close();
          else await opened.place!.handBack(...(tabs.splice(at, 1) as [Tab]));
        },
      };
    },
  };
}
