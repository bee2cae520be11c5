import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { foreignOrigins, names } from "../../../packages/notebooks/build/local-only.ts";
import { buildSite } from "../../../packages/notebooks/build/site.ts";
import { code, page, pagesWith, prose } from "./sample.ts";

describe("a foreign address", () => {
  test.each([
    'import("https://cdn.example.net/npm/x")',
    "url(//fonts.example.net/a.woff2)",
    '<script src="//cdn.example.net/x.js">',
    "fetch('http://192.0.2.1/a')",
    "new WebSocket(`wss://live.example.net`)",
    "http://www.w3.org/2000/svg.evil.example/",
    "https://json-schema.org/other",
  ])("is found in: %s", (text) => {
    expect(foreignOrigins(text)).toHaveLength(1);
  });

  test.each(["// a comment", "a = b //c.d.e", 'href="./a.html"', 'r = "//"', "x / y // z"])(
    "is none in: %s",
    (text) => {
      expect(foreignOrigins(text)).toEqual([]);
    },
  );

  test("is none of the names of markup, which nobody loads", () => {
    expect(names.flatMap((name) => foreignOrigins(`"${name}"`))).toEqual([]);
    expect(names.filter((name) => !/^https?:\/\/(?:www\.w3\.org|json-schema\.org)\//.test(name))).toEqual([]);
  });
});

describe("a build", () => {
  const attempt = async (cell: string) => {
    const { folder, remove } = pagesWith({ "index.html": page(cell) });
    const target = join(folder, "../dist");
    try {
      expect(existsSync(target)).toBe(false);
      await buildSite(target, folder);
      return "built";
    } catch (error) {
      expect(existsSync(target)).toBe(false);
      return (error as Error).message;
    } finally {
      remove();
    }
  };

  test("ends where a cell's text names another origin, and says which file and which", async () => {
    const message = await attempt(code(1, 'display("https://cdn.example.net/x.js");'));
    expect(message).toMatch(/name another origin.*\n\s*a\/index-[\w-]+\.js: https:\/\/cdn\.example\.net\/x\.js/);
  });

  test("ends where prose shows a picture from elsewhere", async () => {
    expect(await attempt(prose(1, "![x](https://pictures.example.net/x.png)"))).toContain("pictures.example.net");
  });

  test("ends where prose shows a picture from elsewhere without saying how", async () => {
    expect(await attempt(prose(1, '<img alt="" src="//pictures.example.net/x.png">'))).toContain(
      "pictures.example.net",
    );
  });

  test("is made where all is local", async () => {
    expect(await attempt(prose(1, "Nothing from elsewhere: $x^2$."))).toBe("built");
  });
});
