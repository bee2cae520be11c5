import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { framePage } from "../../../packages/notebooks/build/frame.ts";
import { sitePolicy } from "../../../packages/notebooks/build/policy.ts";
import { unpacked } from "../../../packages/notebooks/src/base/unpacked.ts";
import { code, prose, sample } from "./sample.ts";

describe("a notebook file", () => {
  test("is read with its cells, each with the line on which its text begins", () => {
    const { title, heading, short, order, cells } = sample(
      `${prose(1, "Hello")}\n${code(7, "const a = 1;")}`,
      'order="3" heading="A question?" short="Q" description="d"',
    );
    expect({ title, heading, short, order }).toEqual({ title: "Sample", heading: "A question?", short: "Q", order: 3 });
    expect(cells.map(({ id, kind, text, line }) => ({ id, kind, text, line }))).toEqual([
      { id: 1, kind: "md", text: "Hello", line: 5 },
      { id: 7, kind: "ts", text: "const a = 1;", line: 8 },
    ]);
  });

  test("may say little: title for heading and navigation, last in order", () => {
    const { heading, short, order } = sample("");
    expect([heading, short, order]).toEqual(["Sample", "Sample", Number.POSITIVE_INFINITY]);
  });

  test.each([
    ["a missing description", () => sample("", ""), /sample\.html:2: the notebook needs a description/],
    ["an order that is no number", () => sample("", 'description="d" order="first"'), /order="first"/],
    [
      "a cell of another kind",
      () => sample('<script id="1" type="module">1</script>'),
      /:4: .*"module"; allowed is text/,
    ],
    ["a cell without an id", () => sample('<script type="text/markdown">a</script>'), /:4: .*got "".*free is 1/],
    ["two cells with one id", () => sample(`${prose(1, "a")}\n${prose(1, "b")}`), /:7: .*got "1"/],
    [
      "a height that is none",
      () => sample('<script id="1" type="text/markdown" height="tall">a</script>'),
      /height="tall"/,
    ],
  ])("is refused with %s, by file and line", (_, read, message) => {
    expect(read).toThrow(message);
  });
});

describe("the frame", () => {
  const first = { ...sample(prose(1, "One <b>two</b>"), 'description="d" short="<First>"'), name: "index" };
  const second = sample(
    `${code(2, "const hostile = '</pre><script>alert(1)</script>'".replace("</script>", "<\\/script>"))}`,
  );
  const html = framePage({
    notebook: second,
    notebooks: [first, second],
    prose: new Map(),
    policy: sitePolicy,
    styles: ["./a.css"],
    script: "./x.js",
    packed: false,
  });
  const { document } = new JSDOM(html).window;

  test("names every page in the navigation and marks this one", () => {
    const links = [...document.querySelectorAll(".site-head nav a")].map((a) => [
      a.textContent,
      a.getAttribute("href"),
    ]);
    expect(links).toEqual([
      ["<First>", "./index.html"],
      ["Sample", "./sample.html"],
    ]);
    expect(document.querySelector("[aria-current=page]")?.textContent).toBe("Sample");
  });

  test("has landmarks, a skip link that arrives, language, viewport, colour scheme, description, icon and policy", () => {
    for (const selector of ["header", "nav[aria-label]", "main", "footer", "main h1", "link[rel=icon]"])
      expect(document.querySelectorAll(selector), selector).toHaveLength(1);
    const skip = document.querySelector(".skip-link")!.getAttribute("href")!;
    expect(document.body.firstElementChild?.className).toBe("skip-link");
    expect(document.querySelector(skip)?.tagName).toBe("MAIN");
    expect(document.documentElement.lang).toBe("en");
    for (const name of ["viewport", "color-scheme", "description"])
      expect(document.querySelector(`meta[name="${name}"]`)?.getAttribute("content"), name).toMatch(/\w/);
    expect(document.querySelector("meta[http-equiv]")?.getAttribute("content")).toBe(sitePolicy);
  });

  test("lists the parts of a long page below its lead, and nothing where there are few or on the first page", () => {
    const parts = ["One", "Two <i>b</i>", "Three"].map((title, i) => `<h2 id="part-${i}">${title}</h2>`);
    const framed = (name: string, body: string) => {
      const notebook = {
        ...sample(`<script id="1" type="text/markdown" class="lead">a</script>\n${prose(2, "b")}`),
        name,
      };
      const policy = sitePolicy;
      const rendered = new Map([
        [1, "<p>Lead</p>"],
        [2, body],
      ]);
      return new JSDOM(
        framePage({
          notebook,
          notebooks: [notebook],
          prose: rendered,
          policy,
          styles: [],
          script: "./x.js",
          packed: false,
        }),
      ).window.document;
    };
    const long = framed("long", `<h2 class="unseen" id="unseen">Unseen</h2>${parts.join("")}`);
    const list = long.querySelector(".on-this-page")!;
    expect(list.previousElementSibling?.id).toBe("cell-1");
    expect([...list.querySelectorAll("a")].map((a) => [a.getAttribute("href"), a.textContent])).toEqual([
      ["#part-0", "One"],
      ["#part-1", "Two b"],
      ["#part-2", "Three"],
    ]);
    expect(framed("short", parts.slice(1).join("")).querySelector(".on-this-page")).toBeNull();
    expect(framed("index", parts.join("")).querySelector(".on-this-page")).toBeNull();
  });

  test("holds the text of each cell, as text and unseen until asked for", () => {
    const shown = document.querySelector<HTMLElement>('[data-code="2"]')!;
    expect(shown.hidden).toBe(true);
    expect(shown.textContent).toContain("</pre><script>alert(1)</script>");
    expect(document.querySelectorAll("main script")).toHaveLength(0);
  });

  test("packs these texts in the built site, until somebody asks for them", async () => {
    const parts = { notebook: second, notebooks: [first, second], prose: new Map(), policy: sitePolicy };
    const built = new JSDOM(framePage({ ...parts, styles: [], script: "./x.js", packed: true })).window.document;
    expect(built.querySelector('[data-code="2"]')?.textContent).toBe("");
    const texts = JSON.parse(await (await unpacked(built.querySelector("main")!.dataset.codes!)).text());
    expect(texts[2]).toContain("</pre><script>alert(1)</script>");
  });
});
