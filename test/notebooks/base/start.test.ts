import { describe, expect, test } from "vitest";
import { refusal } from "../../../packages/notebooks/build/guard.ts";
import { opener } from "../../../packages/notebooks/build/open-browser.ts";
import { readStartOptions } from "../../../packages/notebooks/build/options.ts";
import { inlineWorkers } from "../../../packages/notebooks/build/workers.ts";

describe("the options of npm start", () => {
  test.each([
    [[], { once: false, port: 4812, strictPort: false, open: true }],
    [["--no-open"], { once: false, port: 4812, strictPort: false, open: false }],
    [["--port", "5000"], { once: false, port: 5000, strictPort: true, open: true }],
    [["--port=5000"], { once: false, port: 5000, strictPort: true, open: true }],
    [["--once"], { once: true, port: 4812, strictPort: false, open: true }],
  ])("%j", (args, expected) => {
    expect(readStartOptions(args)).toEqual(expected);
  });

  test.each([[["--port"]], [["--port", "x"]], [["--port", "0"]], [["--port=70000"]], [["--loud"]], [["--once=yes"]]])(
    "%j are refused with what was received",
    (args) => {
      const { problem } = readStartOptions(args) as { problem: string };
      expect(problem).toContain(args[0]!.split("=")[0]);
      expect(problem).toContain(args[1] ?? args[0]!.split("=")[1] ?? args[0]);
    },
  );

  test("say that a port means nothing where nothing is served", () => {
    expect(readStartOptions(["--once", "--port", "5000"])).toHaveProperty("problem");
  });
});

describe("the development server refuses", () => {
  const own = { host: "127.0.0.1:4812" };
  test.each([
    ["another host's name", { host: "evil.example:4812" }],
    ["another page's request", { ...own, origin: "http://evil.example" }],
    ["a page of another port", { ...own, origin: "http://127.0.0.1:9" }],
    ["a part loaded by another site", { ...own, "sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors" }],
  ])("%s", (_, headers) => {
    expect(refusal({ headers })).toEqual(expect.any(String));
  });

  test.each(["//", "http://[", "http://a:b/"])("what names no place: %s", (url) => {
    expect(refusal({ headers: { host: "127.0.0.1:5173" }, url })).toBe("the request names no place");
  });

  test("nothing of its own page, and no link that leads to it", () => {
    expect(refusal({ headers: own })).toBeNull();
    expect(refusal({ headers: { ...own, origin: "http://127.0.0.1:4812" } })).toBeNull();
    expect(refusal({ headers: { ...own, "sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate" } })).toBeNull();
  });
});

describe("a browser is opened", () => {
  test.each([
    ["linux", {}, true, null],
    ["linux", { DISPLAY: ":0" }, true, ["xdg-open"]],
    ["linux", { WAYLAND_DISPLAY: "w" }, true, ["xdg-open"]],
    ["linux", { DISPLAY: ":0" }, false, null],
    ["linux", { DISPLAY: ":0", CI: "true" }, true, null],
    ["darwin", {}, true, ["open"]],
  ] as const)("on %s with %j, terminal %s: %j", (platform, env, terminal, expected) => {
    expect(opener(platform, env as unknown as NodeJS.ProcessEnv, terminal)).toEqual(expected);
  });
});

describe("the start of a worker", () => {
  const files = (name: string) => (name === "run.worker-Ab1.js" ? 'postMessage("</script>")' : null);
  // As the site's build writes it, short and long.
  const short =
    "new Worker(new URL(new URL(`run.worker-Ab1.js`,import.meta.url).href,``+import.meta.url),{type:`module`})";
  const long = 'new Worker(\n  new URL("run.worker-Ab1.js", import.meta.url),\n  { type: "module" },\n)';

  test.each([short, long])("becomes one whose text stands in the page: %s", (start) => {
    const code = inlineWorkers(`const f = () => ${start}; g(Worker);`, files);
    expect(code).toMatch(/^const f = \(\) => new Worker\(URL\.createObjectURL\(new Blob\(\[inlineWorker0\],/);
    expect(code).not.toContain("import.meta");
    expect(code).toContain('\nvar inlineWorker0="postMessage(\\"</script>\\")";');
  });

  test("is found as often as it stands there", () => {
    expect(inlineWorkers(`${short}; ${long}`, files).match(/new Blob/g)).toHaveLength(2);
  });

  test("from anywhere else stops the build", () => {
    expect(() => inlineWorkers("new Worker(address)", files)).toThrow(/no file of the site: new Worker\(address\)/);
  });

  test("is left alone where there is none", () => {
    expect(inlineWorkers("const Worker = 1; f(Worker);", files)).toBe("const Worker = 1; f(Worker);");
  });
});
