import { existsSync } from "node:fs";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";

const places = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** The browser's program, or null. `CHROMIUM_PATH` comes first. */
export function browserPath(): string | null {
  const named = process.env["CHROMIUM_PATH"];
  return (named ? [named] : places).find((path) => existsSync(path)) ?? null;
}

/**
 * True where tests in a browser cannot run; for `describe.skipIf`, with a line that says so. Where the checks decide about a change
 * (`CI` is set) a missing browser is a failure.
 */
export function withoutBrowser(): boolean {
  if (browserPath() !== null) return false;
  const reason = "no browser: install chromium or set CHROMIUM_PATH";
  if (process.env["CI"]) throw new Error(`Tests in a browser are needed here, and there is ${reason}.`);
  process.stderr.write(`\nSKIPPED: tests in a browser (${reason}).\n`);
  return true;
}

/**
 * What the browser must not do beside the pages. The last list of these counts alone, so what playwright-core turns off stands here again.
 * Each window brings two pages for its address bar, which nobody sees and which take as much processor as a page of ours.
 */
const offFeatures = [
  "AimEnabled",
  "AvoidCorsURLLoaderRestartOnRedirect",
  "AvoidUnnecessaryBeforeUnloadCheckSync",
  "DestroyProfileOnBrowserClose",
  "HttpsFirstBalancedModeAutoEnable",
  "HttpsUpgrades",
  "LensOverlay",
  "MediaRouter",
  "NetworkTimeServiceQuerying",
  "OptimizationHints",
  "PaintHolding",
  "PreconnectToSearch",
  "ThirdPartyStoragePartitioning",
  "WebUIOmniboxAimPopup",
  "WebUIOmniboxFullPopup",
  "WebUIOmniboxPopup",
];

/**
 * A page is open for seconds here, and each of its threads begins anew: what compiles code once more, and better, costs twice what it saves.
 * Asked for by `RAILFAULT_BROWSER_COMPILES=little`; code that only runs slower does the same.
 */
const compilesLittle = "--js-flags=--no-turbofan --interrupt-budget-for-maglev=200000";

/** Starts the browser, without any talk of its own to the network and with an empty profile. */
export function startBrowser(): Promise<Browser> {
  const path = browserPath();
  if (path === null) throw new Error("There is no browser.");
  const args = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    `--disable-features=${offFeatures.join(",")}`,
    ...(process.env["RAILFAULT_BROWSER_COMPILES"] === "little" ? [compilesLittle] : []),
  ];
  return chromium.launch({ executablePath: path, headless: true, args });
}

/** What a page must not do, collected while it is open. */
export interface Watched {
  readonly page: Page;
  /** Errors and warnings in the console, errors that nobody caught, violations of the policy. */
  readonly complaints: readonly string[];
  /** Requests to anywhere but where the page comes from. */
  readonly foreign: readonly string[];
}

/** A new page that is watched. `origin` is the only place that it may ask: `http://127.0.0.1:4000`, or `file:`. */
export async function watchedPage(context: Browser | BrowserContext, origin: string): Promise<Watched> {
  return watched(await context.newPage(), origin);
}

/** Watches a page from now on, before its first request. */
export function watched(page: Page, origin: string): Watched {
  const complaints: string[] = [];
  const foreign: string[] = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`uncaught: ${error.message}`));
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(origin) && !/^(?:data|blob):/.test(url)) foreign.push(url);
  });
  return { page, complaints, foreign };
}
