import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { buildReference, type Reference } from "../../packages/notebooks/build/reference.ts";
import { serveDist } from "../../packages/notebooks/build/serve-dist.ts";
import { filesOf, measure } from "../../packages/notebooks/build/sizes.ts";
import { readDocuments } from "../docs/markdown.ts";
import { startBrowser, withoutBrowser } from "../support/browser.ts";
import { publicExports } from "../support/public-exports.ts";

const page = '<!doctype html><title>x</title><footer class="site-foot"></footer>\n';
const site = mkdtempSync(join(tmpdir(), "railfault-reference-"));
let made: Reference;
const read = (name: string): string => readFileSync(join(site, name), "utf8");

beforeAll(async () => {
  writeFileSync(join(site, "index.html"), page);
  made = await buildReference(site);
}, 300_000);
afterAll(() => rmSync(site, { recursive: true, force: true }), 60_000);

test("every export has a page", () => {
  const pages = filesOf(join(site, "reference")).filter((name) => name.endsWith(".html"));
  expect(pages.length).toBe(made.pages);
  const missing = publicExports().filter(({ name }) => !pages.some((path) => path.endsWith(`.${name}.html`)));
  expect(missing.map(({ name }) => name)).toEqual([]);
});

test("every guide has a page", () => {
  const guides = readDocuments().filter(({ path }) => /^packages\/sim\/docs\/[^/]+\.md$/.test(path));
  expect(guides.length).toBeGreaterThan(15);
  const pages = filesOf(join(site, "reference/documents")).map((name) => read(`reference/documents/${name}`));
  for (const { path, text } of guides) {
    const [, heading = ""] = /^# (.+)$/m.exec(text) ?? [];
    const shown = heading.replaceAll("`", "").replaceAll("&", "&amp;");
    expect(pages.filter((each) => each.includes(`<title>${shown} |`)).length, `${path}: ${shown}`).toBe(1);
  }
});

test("the site's pages lead to it once, and it counts apart from the notebooks", async () => {
  expect(read("index.html").match(/reference\/index\.html/g)).toHaveLength(1);
  expect(measure(site).site).toBe(Buffer.byteLength(read("index.html")));
  expect(made.bytes).toBeGreaterThan(1e6);
});

test("every page has the policy, and no script of its own", () => {
  for (const name of filesOf(join(site, "reference")).filter((each) => each.endsWith(".html"))) {
    const text = read(`reference/${name}`);
    expect(text, name).toContain("script-src 'self'");
    expect(text, name).not.toMatch(/<script>|<script [^>]*src="(?:[a-z]+:)?\/\/|\son\w+="/);
    const [, scheme = ""] = /<script src="([^"]*scheme\.js)">/.exec(text) ?? [];
    expect(existsSync(join(site, "reference", name, "..", scheme)), name).toBe(true);
  }
});

describe.skipIf(withoutBrowser())("in a browser", () => {
  test("a word of a guide and a name are found, without the network", async () => {
    const { url, close } = await serveDist({ folder: site });
    const browser = await startBrowser();
    try {
      const tab = await browser.newPage();
      const asked: string[] = [];
      const wrong: string[] = [];
      tab.on("request", (request) => asked.push(request.url()));
      tab.on("console", (message) => message.type() === "error" && wrong.push(message.text()));
      tab.on("pageerror", (error) => wrong.push(String(error)));
      await tab.goto(`${url}reference/index.html`);
      for (const [word, found] of [
        ["parseScenario", ".parseScenario.html"],
        ["Onderdonk", "documents/Accuracy"],
        ["fuse", "documents/What_goes_first"],
      ] as const) {
        await tab.click("#tsd-search-trigger");
        await tab.fill("#tsd-search-input", word);
        // What was found before stands there until the index has answered.
        await tab.locator(`#tsd-search-results a[href*="${found}"]`).first().waitFor();
        await tab.keyboard.press("Escape");
      }
      expect(asked.length).toBeGreaterThan(3);
      expect(asked.filter((each) => !each.startsWith(url) && !each.startsWith("data:"))).toEqual([]);
      expect(wrong).toEqual([]);
    } finally {
      await browser.close();
      await close();
    }
  });
});
