import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { connect } from "node:net";
import { join } from "node:path";
import { JSDOM } from "jsdom";
import { beforeAll, describe, expect, test } from "vitest";
import { foreignOrigins } from "../../../packages/notebooks/build/local-only.ts";
import { notFoundPage } from "../../../packages/notebooks/build/not-found.ts";
import { readNotebooks } from "../../../packages/notebooks/build/notebook.ts";
import { pagesFolder } from "../../../packages/notebooks/build/paths.ts";
import { sitePolicy } from "../../../packages/notebooks/build/policy.ts";
import { serveDist } from "../../../packages/notebooks/build/serve-dist.ts";
import { filesOf, limits, measure, tooLarge } from "../../../packages/notebooks/build/sizes.ts";
import { builtSite } from "../../support/built-site.ts";

const notebooks = readNotebooks(pagesFolder);
const names = notebooks.map(({ name }) => `${name}.html`);
let site = "";
beforeAll(async () => {
  site = await builtSite();
}, 120_000);

const read = (name: string) => readFileSync(join(site, name), "utf8");
const parse = (name: string) => new JSDOM(read(name)).window.document;

test("the site is built once, however many ask at the same time", async () => {
  const folders = await Promise.all([builtSite(), builtSite(), builtSite()]);
  expect(new Set(folders).size).toBe(1);
  expect(filesOf(folders[0]!)).toContain("single/index.html");
}, 120_000);

test("every notebook is a page of the site and a file of its own", () => {
  expect(names).toContain("index.html");
  const pages = filesOf(site).filter((name) => name.endsWith(".html") && name !== notFoundPage);
  expect(pages).toEqual([...names, ...names.map((name) => `single/${name}`)].sort());
});

test("the first page is named first in the navigation of every page", () => {
  for (const name of names) {
    const links = [...parse(name).querySelectorAll(".site-head nav a")].map((a) => a.getAttribute("href"));
    expect(links[0], name).toBe("./index.html");
    expect(links, name).toEqual(names.map((each) => `./${each}`));
  }
});

test("no file names another origin", () => {
  for (const name of filesOf(site)) expect(foreignOrigins(read(name)), name).toEqual([]);
});

describe.each(names)("%s", (name) => {
  let document: Document;
  beforeAll(() => {
    document = parse(name);
  });

  test("carries the policy before anything that it is about, and no script of its own", () => {
    const policy = document.querySelector("meta[http-equiv=Content-Security-Policy]");
    expect(policy?.getAttribute("content")).toBe(sitePolicy);
    for (const each of document.querySelectorAll("script, link, style"))
      expect(policy!.compareDocumentPosition(each) & 4, each.outerHTML).toBeGreaterThan(0);
    for (const script of document.querySelectorAll("script")) expect(script.textContent?.trim()).toBe("");
    const handlers = [...document.querySelectorAll("*")].flatMap((each) => each.getAttributeNames());
    expect(handlers.filter((attribute) => attribute.startsWith("on"))).toEqual([]);
  });

  test("names every file relative to itself, and each is there", () => {
    const named = [...document.querySelectorAll("[src], link[href]")].map(
      (each) => each.getAttribute("src") ?? each.getAttribute("href") ?? "",
    );
    expect(named.length).toBeGreaterThan(3);
    for (const path of named) {
      expect(path).toMatch(/^\.\//);
      expect(existsSync(join(site, path)), path).toBe(true);
    }
  });

  test("asks for its own files as its own", () => {
    expect(document.querySelectorAll("[crossorigin]")).toHaveLength(0);
  });

  test("has no formula left in its prose, and says nothing of what made it", () => {
    const prose = document.querySelector("main")?.cloneNode(true) as Element;
    for (const each of prose.querySelectorAll("pre, code, annotation")) each.remove();
    expect(prose.textContent).not.toMatch(/\$\S[^$]*\$|\\frac/);
    expect(document.querySelector("meta[name=generator]")).toBeNull();
  });

  test("as a single file names nothing outside itself, and exactly its own scripts may run", () => {
    const single = parse(`single/${name}`);
    const outside = [...single.querySelectorAll("[src], link[href]")].map(
      (each) => each.getAttribute("src") ?? each.getAttribute("href") ?? "",
    );
    expect(outside.filter((path) => !path.startsWith("data:"))).toEqual([]);
    const policy = single.querySelector("meta[http-equiv=Content-Security-Policy]")!.getAttribute("content")!;
    const hashes = [...single.querySelectorAll("script")].map(
      (script) => `'sha256-${createHash("sha256").update(script.textContent!).digest("base64")}'`,
    );
    expect(/script-src ([^;]*)/.exec(policy)?.[1]?.split(" ")).toEqual(hashes);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("worker-src blob:");
  });
});

test("the sizes are measured and within their limits", () => {
  const sizes = measure(site);
  expect(sizes.pages.map(({ name }) => name)).toEqual(names.toSorted());
  for (const { compressed } of sizes.pages) expect(compressed).toBeGreaterThan(20_000);
  expect(tooLarge(sizes)).toEqual([]);
  expect(sizes.site).toBeLessThan(2_000_000);
  expect(sizes.firstPage).toBeLessThan(600_000);
  expect(tooLarge({ ...sizes, site: limits.site + 1, firstPage: limits.firstPage + 1 })).toHaveLength(2);
});

/** What a server answers to words that no browser says. */
async function firstLine(port: number, words: string): Promise<string[]> {
  const socket = connect(port, "127.0.0.1");
  socket.write(words);
  let answer = "";
  for await (const piece of socket) answer += String(piece);
  return answer.split("\r\n");
}

describe("the plain server", () => {
  const get = async (path: string, init?: RequestInit) => {
    const { url, close } = await serveDist({ folder: site, base: "/a/b/" });
    const response = await fetch(new URL(path, url), init);
    const answer = { status: response.status, type: response.headers.get("content-type"), text: await response.text() };
    await close();
    return answer;
  };

  test("goes on behind a request that names no place", async () => {
    const { url, close } = await serveDist({ folder: site });
    const { port } = new URL(url);
    for (const place of ["//", "http://["]) {
      const [line] = await firstLine(
        Number(port),
        `GET ${place} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n`,
      );
      expect(line, place).toBe("HTTP/1.1 404 Not Found");
    }
    expect((await fetch(url)).status).toBe(200);
    await close();
  });

  test("gives pages and scripts with their types, below its path only", async () => {
    expect(await get("index.html")).toMatchObject({ status: 200, type: "text/html; charset=utf-8" });
    expect((await get("")).text).toBe(read("index.html"));
    expect(await get("scheme.js")).toMatchObject({ status: 200, type: "text/javascript; charset=utf-8" });
    expect(await get("favicon.svg")).toMatchObject({ status: 200, type: "image/svg+xml" });
    for (const path of ["/index.html", "nothing.html", "assets/", "..%2f..%2fpackage.json", "%"])
      expect((await get(path)).status, path).toBe(404);
    expect((await get("index.html", { method: "POST" })).status).toBe(405);
  });
});
