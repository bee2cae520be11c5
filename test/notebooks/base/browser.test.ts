import { readFileSync, writeFileSync } from "node:fs";
import { get } from "node:http";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { startServer } from "../../../packages/notebooks/build/serve.ts";
import { serveDist } from "../../../packages/notebooks/build/serve-dist.ts";
import { buildSite } from "../../../packages/notebooks/build/site.ts";
import { startBrowser, type Watched, watchedPage, withoutBrowser } from "../../support/browser.ts";
import { code, page, pagesWith, prose } from "./sample.ts";

// A busy machine may need a while.
const eventually = <T>(look: () => T) => expect.poll(look, { timeout: 10_000 });

const slider =
  'const field = document.createElement("input"); field.type = "range"; field.setAttribute("aria-label", "Voltage");';
const file = page(
  [
    prose(1, "At ${volts} V twice is ${twice}, with $x^2$; ${hostile}.\n\n    ${alone}"),
    code(2, `${slider}\n    const volts = view(field);`),
    code(3, 'import { doubled } from "../src/index.ts";\n    const twice = await doubled(Number(volts));'),
    code(4, 'const hostile = "<img src=x onerror=alert(1)>";'),
    code(6, "const alone = `Alone ${volts}`;"),
    code(5, "`shown ${volts}`").replace('">', '" height="3000">'),
  ].join("\n"),
);
const failing = page(
  [
    code(1, 'const broken = ((): number => { throw new Error("<b>no</b> battery"); })();'),
    code(2, "broken + 1"),
    prose(3, "It is ${broken}."),
    code(4, '"still here"'),
  ].join("\n"),
);

describe.skipIf(withoutBrowser())("a notebook in the browser", () => {
  const pages = pagesWith({ "index.html": file, "failing.html": failing });
  let browser: Browser;
  beforeAll(async () => {
    browser = await startBrowser();
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    pages.remove();
  });

  const text = (watched: Watched, selector: string) => watched.page.locator(selector).innerText();
  const walk = async (watched: Watched) => {
    const first = watched.page.locator("#cell-1");
    await eventually(() => first.innerText()).toMatch(/^At 50\sV twice is 100, with/);
    await watched.page.locator("input[type=range]").fill("20");
    await eventually(() => first.innerText()).toMatch(/^At 20\sV twice is 40, with/);
    expect(await first.innerText()).toContain("<img src=x onerror=alert(1)>");
    expect(await first.locator("math").count()).toBe(1);
    expect(await text(watched, "#cell-1 p:last-child")).toBe("Alone 20");
    expect(await text(watched, "#cell-5")).toBe("shown 20");
    const codes = watched.page.locator("pre[data-code]");
    expect(await codes.first().isVisible()).toBe(false);
    await watched.page.getByRole("button", { name: "Show the code" }).click();
    expect(await codes.count()).toBe(6);
    await eventually(() => codes.nth(1).innerText()).toContain("const volts = view(field);");
    expect(watched.complaints).toEqual([]);
    expect(watched.foreign).toEqual([]);
  };

  describe("built", () => {
    let site: Awaited<ReturnType<typeof serveDist>>;
    const folder = join(pages.folder, "../dist");
    beforeAll(async () => {
      await buildSite(folder, pages.folder);
      site = await serveDist({ folder, base: "/club/pages/" });
    }, 60_000);
    afterAll(() => site?.close());

    test("works below any path of a plain server, worker included, without a complaint or a request elsewhere", async () => {
      const watched = await watchedPage(browser, site.url);
      await watched.page.goto(`${site.url}index.html`);
      await walk(watched);
    });

    test("works from the disk as a single file, worker included", async () => {
      const watched = await watchedPage(browser, "file:");
      await watched.page.goto(`file://${join(folder, "single/index.html")}`);
      await walk(watched);
    });

    test("shows a failure where it happened, as text and once, and goes on", async () => {
      const watched = await watchedPage(browser, site.url);
      await watched.page.goto(`${site.url}failing.html`);
      await eventually(() => text(watched, "#cell-4")).toBe("still here");
      expect(await text(watched, "#cell-1")).toBe("This part of the page failed. <b>no</b> battery.");
      for (const cell of ["#cell-2", "#cell-3"])
        expect(await text(watched, cell)).toContain("a part of the page that it needs failed");
      expect(watched.complaints).toEqual([expect.stringContaining("<b>no</b> battery")]);
    });

    test("is light or dark as the reader chose, before the first paint of the next visit too", async () => {
      const context = await browser.newContext({ colorScheme: "light" });
      const watched = await watchedPage(context, site.url);
      await watched.page.goto(`${site.url}index.html`);
      const scheme = () => watched.page.locator("html").getAttribute("data-scheme");
      expect(await scheme()).toBeNull();
      await watched.page.getByLabel("Light or dark").selectOption("Colours: dark");
      expect(await scheme()).toBe("dark");
      await watched.page.goto(`${site.url}failing.html`, { waitUntil: "commit" });
      await eventually(scheme).toBe("dark");
      await eventually(() => text(watched, "#cell-4")).toBe("still here");
      await watched.page.getByLabel("Light or dark").selectOption("Colours: as on this device");
      expect(await scheme()).toBeNull();
      await context.close();
    });
  });

  describe("while it is written", () => {
    let dev: Awaited<ReturnType<typeof startServer>>;
    beforeAll(async () => {
      dev = await startServer({ port: 4950, strictPort: false }, pages.folder);
    }, 60_000);
    afterAll(() => dev?.server.close());
    const path = join(pages.folder, "index.html");
    const edit = (from: string, to: string) => {
      const before = readFileSync(path, "utf8");
      expect(before).toContain(from);
      writeFileSync(path, before.replace(from, to));
    };

    test("shows its cells, and a changed cell runs anew with all that needs it; nothing else moves", async () => {
      const watched = await watchedPage(browser, dev.address);
      const { page: tab } = watched;
      await tab.goto(dev.address);
      await walk(watched);
      await tab.evaluate(() => Object.assign(window, { sameDocument: true }));
      const same = () => tab.evaluate(() => "sameDocument" in window);

      edit("await doubled(Number(volts))", "1000 + await doubled(Number(volts))");
      await eventually(() => text(watched, "#cell-1")).toMatch(/^At 20\sV twice is 1040/);
      expect(await tab.locator('[data-code="3"]').innerText()).toContain("1000 + await");

      edit("At ${volts} V", "Exactly at ${volts} V");
      await eventually(() => text(watched, "#cell-1")).toMatch(/^Exactly at 20\sV twice is 1040/);

      // The cell of the slider itself: a new slider, the same place.
      edit('"Voltage"', '"Load voltage"');
      await tab.getByLabel("Load voltage").waitFor();
      expect(await tab.getByLabel("Load voltage").inputValue()).toBe("20");
      await eventually(() => text(watched, "#cell-1")).toMatch(/^Exactly at 20\sV/);
      expect(await same()).toBe(true);

      // What the frame shows of it: the page is loaded again, and slider and place stay.
      await tab.evaluate(() => scrollTo(0, 1500));
      edit("<title>Sample", "<title>Renamed");
      await eventually(() => text(watched, "h1")).toBe("Renamed");
      await eventually(() => text(watched, "#cell-1")).toMatch(/^Exactly at 20\sV twice is 1040/);
      expect(await same()).toBe(false);
      await eventually(() => tab.evaluate(() => Math.round(scrollY))).toBe(1500);
      expect(watched.complaints).toEqual([]);
      expect(watched.foreign).toEqual([]);
    });

    test("answers this machine only", async () => {
      const status = async (headers: Record<string, string>) => (await fetch(dev.address, { headers })).status;
      expect(await status({})).toBe(200);
      expect(await status({ origin: "http://evil.example" })).toBe(403);
      expect(dev.server.httpServer?.address()).toMatchObject({ address: "127.0.0.1" });
      // A page of another site may open a socket here without asking; it gets none.
      const upgraded = (origin: string) =>
        new Promise<number>((resolve, reject) => {
          const upgrade = { connection: "Upgrade", upgrade: "websocket", "sec-websocket-version": "13" };
          const key = { "sec-websocket-key": "dGhlIHNhbXBsZSBub25jZQ==", "sec-websocket-protocol": "vite-hmr" };
          const asked = get(dev.address, { headers: { ...upgrade, ...key, origin } });
          asked.on("response", (answer) => resolve(answer.statusCode ?? 0));
          asked.on("upgrade", (_, socket) => {
            socket.destroy();
            resolve(101);
          });
          asked.on("error", reject);
        });
      expect(await upgraded("http://evil.example")).toBe(400);
    });
  });
});
