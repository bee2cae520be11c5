import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll } from "vitest";
import { serveDist } from "../../../packages/notebooks/build/serve-dist.ts";
import { startBrowser, watchedPage } from "../../support/browser.ts";
import { builtSite } from "../../support/built-site.ts";
import { settled } from "./settled.ts";

/** A page of the built site in a tab, watched from before its first request. */
export interface Visit {
  readonly page: Page;
  readonly context: BrowserContext;
  /** All that a page must not do, and did so far: talk in the console, ask elsewhere, ask for what is not there. */
  wrong(): readonly string[];
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

/**
 * The built site and one browser for all tests of a file; profiles are thrown away after each test, unless `keep` says
 * that one visit is looked at by several.
 *
 * @example const desk = openDesk(); test("…", async () => { const { page, wrong } = await desk.visit("index.html"); });
 */
export function openDesk(keep = false): Desk {
  const opened: { browser?: Browser; site?: Awaited<ReturnType<typeof serveDist>>; folder?: string } = {};
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    opened.folder = await builtSite();
    opened.site = await serveDist({ folder: opened.folder });
    opened.browser = await startBrowser();
  }, 240_000);
  const closeAll = async (): Promise<void> => {
    await Promise.all(contexts.splice(0).map((context) => context.close()));
  };
  if (!keep) afterEach(closeAll);
  afterAll(async () => {
    await closeAll();
    await opened.browser?.close();
    await opened.site?.close();
  });

  const context = async (options: VisitOptions = {}): Promise<BrowserContext> => {
    const { width = 1200, height = 900, before, context: _, settle: __, ...rest } = options;
    const made = await opened.browser!.newContext({ viewport: { width, height }, colorScheme: "light", ...rest });
    made.setDefaultTimeout(12_000);
    if (before) await made.addInitScript(before);
    contexts.push(made);
    return made;
  };
  return {
    get url() {
      return opened.site!.url;
    },
    get folder() {
      return opened.folder!;
    },
    context,
    async visit(path, options = {}) {
      const own = options.context ?? (await context(options));
      const { page, complaints, foreign } = await watchedPage(own, opened.site!.url);
      const failed: string[] = [];
      page.on("requestfailed", (request) => {
        const why = request.failure()?.errorText ?? "";
        // A page that is left asks for nothing any more.
        if (why !== "net::ERR_ABORTED") failed.push(`${request.url()}: ${why}`);
      });
      page.on("response", (response) => {
        if (response.status() >= 400) failed.push(`${response.url()}: ${response.status()}`);
      });
      await page.goto(`${opened.site!.url}${path}`);
      if (options.settle !== false) await settled(page);
      return {
        page,
        context: own,
        wrong: () => [
          ...complaints.map((each) => `console: ${each}`),
          ...foreign.map((each) => `asked elsewhere: ${each}`),
          ...failed.map((each) => `request failed: ${each}`),
        ],
      };
    },
  };
}
