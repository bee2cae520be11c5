import { cpSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { checkPackage, createPackageFromTarballData } from "@arethetypeswrong/core";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { serveDist } from "../../packages/notebooks/build/serve-dist.ts";
import { readDocument } from "../docs/markdown.ts";
import { filesBelow, root } from "../ground/files.ts";
import { startBrowser, withoutBrowser } from "../support/browser.ts";
import { exampleProgram, examples } from "../support/example-program.ts";
import { packedProject } from "../support/packed-project.ts";
import { publicExports } from "../support/public-exports.ts";

const inside = "The relay radio never saw more than 14.7 V: within its limit of 15.9 V";
const exports = publicExports();
let project: Awaited<ReturnType<typeof packedProject>>;
const write = (name: string, text: string): void => writeFileSync(join(project.folder, name), text);

beforeAll(async () => {
  project = await packedProject();
}, 300_000);
afterAll(() => rmSync(dirname(project.archive), { recursive: true, force: true }), 60_000);

describe("the packed library", () => {
  test("has nothing that a package should not have", async () => {
    // Everything in that folder is published.
    const { messages, pkg } = await publint({ pkgDir: project.published, strict: true, pack: false });
    expect(messages.map((message) => formatMessage(message, pkg ?? {}, { color: false }))).toEqual([]);
  });

  test("has types that are found and true, for modules and for bundlers", async () => {
    const analysis = await checkPackage(createPackageFromTarballData(readFileSync(project.archive)));
    if (analysis.types === false) throw new Error("there are no types");
    const entries = Object.keys(analysis.entrypoints);
    expect(entries).toEqual(expect.arrayContaining([".", "./figures", "./node", "./browser", "./browser/figures"]));
    // It is for modules alone: whoever asks with `require`, or by the rules of Node 10, is not served.
    const served = analysis.problems.filter((problem) =>
      "resolutionKind" in problem ? ["node16-esm", "bundler"].includes(problem.resolutionKind) : true,
    );
    expect(served.filter(({ kind }) => kind !== "CJSResolvesToESM")).toEqual([]);
  });

  test("holds no source, no test and no path of a machine", () => {
    const manifest = readFileSync(join(project.published, "package.json"), "utf8");
    expect(manifest).not.toMatch(/workspace:|"private"|\.ts"(?<!\.d\.ts")|devDependencies/);
    for (const name of ["tsx", "esbuild"]) expect(manifest).not.toContain(`"${name}"`);
    const maps = filesBelow(project.published, [".map"]);
    expect(maps.length).toBeGreaterThan(400);
    const sources = maps.flatMap((name) => {
      const map = JSON.parse(readFileSync(join(project.published, name), "utf8")) as { sources: string[] };
      return map.sources;
    });
    expect(sources).toContain("railfault:///src/index.ts");
    expect(sources.filter((name) => !/^railfault:\/\/\/(?:src|node_modules)\//.test(name))).toEqual([]);
  });
});

describe("installed into an empty project", () => {
  test("is used from TypeScript, every example too", async () => {
    write("mine.ts", readDocument("README.md").blocks.find(({ language }) => language === "ts")?.text ?? "");
    write("examples.ts", exampleProgram(exports));
    cpSync(join(root, "test/support/example-world.ts"), join(project.folder, "example-world.ts"));
    expect(await project.compile("mine.ts", "examples.ts")).toBe("");
    expect(await project.node("made/mine.js")).toContain(inside);
  });

  test("sees a wrong use", async () => {
    write("wrong.ts", 'import { runScenario } from "@railfault/sim";\nrunScenario(42, "hut.yaml");\n');
    expect(await project.compile("wrong.ts")).toContain("wrong.ts(2,13): error TS2345");
  });

  test("is used from plain JavaScript", async () => {
    write(
      "plain.mjs",
      `import { runFile, renderSvg } from "@railfault/sim/node";
      import { figureData } from "@railfault/sim/figures";
      const result = runFile("hut.yaml");
      console.log(result.verdict.headline);
      console.log((await renderSvg(figureData(result.run, result.verdict))).includes("</svg>"));`,
    );
    expect(await project.node("plain.mjs")).toBe(`${inside}.\ntrue\n`);
  });

  test("brings the command, its threads and its schemas", async () => {
    const command = "node_modules/@railfault/sim/bin/railfault.mjs";
    expect(await project.node(command, "run", "hut.yaml")).toContain("Before the next use");
    expect(await project.node(command, "--version")).toMatch(/\d+\.\d+\.\d+/);
    expect(await project.node(command, "whatif", "hut.yaml", "--x", "ambient: 0…40 °C", "--points", "4")).toContain(
      "ambient",
    );
    const schema = JSON.parse(await project.node(command, "schema", "result")) as { title: string };
    expect(schema.title).toBe("Railfault result");
    await project.node(command, "run", "hut.yaml", "--png", "hut.png");
    expect(readFileSync(join(project.folder, "hut.png")).subarray(1, 4).toString("latin1")).toBe("PNG");
  });
});

describe("the examples of the comments, run from the packed library", () => {
  const said = new Map<string, { gave?: unknown; failed?: string }>();

  beforeAll(async () => {
    write(
      "run.mjs",
      `import { writeFileSync } from "node:fs";
      import { examples } from "./made/examples.js";
      const said = [];
      for (const [name, example] of Object.entries(examples))
        try {
          said.push([name, { gave: await example() }]);
        } catch (error) {
          said.push([name, { failed: String(error) }]);
        }
      // An element or a run is too much to tell.
      const plain = (_, value) => (ArrayBuffer.isView(value) ? null : value);
      const told = said.map(([name, told]) => {
        try {
          return [name, JSON.parse(JSON.stringify(told, plain))];
        } catch {
          return [name, {}];
        }
      });
      writeFileSync("said.json", JSON.stringify(told));
      process.exit(0);`,
    );
    await project.node("run.mjs");
    for (const [name, told] of JSON.parse(readFileSync(join(project.folder, "said.json"), "utf8")))
      said.set(name, told);
  }, 300_000);

  test.each(examples(exports).map((example) => [example.name, example] as const))("%s", (name, { expected }) => {
    const told = said.get(name);
    expect(told).toBeDefined();
    expect(told?.failed).toBeUndefined();
    if (expected !== null) matches(told?.gave, new Function(`return (${expected})`)());
  });

  function matches(gave: unknown, expected: unknown): void {
    if (typeof expected === "number") expect(Number(gave)).toBeCloseTo(expected, digits(expected));
    else if (typeof expected === "object" && expected !== null) expect(gave).toMatchObject(expected);
    else expect(String(gave).replaceAll(/[\u202f\u00a0]/g, " ")).toBe(expected);
  }

  const digits = (value: number): number => (String(value).split(".")[1] ?? "").length;
});

describe.skipIf(withoutBrowser())("a page without a bundler", () => {
  test("runs a scenario and draws it", async () => {
    write(
      "index.html",
      '<!doctype html><meta charset="utf-8"><title>x</title><link rel="icon" href="data:,"><main></main><script type="module" src="page.js"></script>',
    );
    write(
      "page.js",
      `import { runScenario } from "./node_modules/@railfault/sim/browser/index.js";
      import { faultFigure, figureData } from "./node_modules/@railfault/sim/browser/figures.js";
      const text = await (await fetch("hut.yaml")).text();
      const { run, verdict } = runScenario(text, "hut.yaml");
      document.querySelector("main").append(faultFigure(figureData(run, verdict), { document }));
      document.title = verdict.headline;`,
    );
    const { url: address, close } = await serveDist({ folder: project.folder });
    const browser = await startBrowser();
    try {
      const page = await browser.newPage();
      const asked: string[] = [];
      const wrong: string[] = [];
      page.on("request", (request) => asked.push(request.url()));
      page.on("console", (message) => message.type() === "error" && wrong.push(message.text()));
      page.on("pageerror", (error) => wrong.push(String(error)));
      await page.goto(`${address}index.html`);
      await page.waitForSelector("main svg", { state: "attached" });
      expect(await page.title()).toContain(inside);
      expect(asked.filter((each) => !each.startsWith(address))).toEqual([]);
      expect(wrong).toEqual([]);
    } finally {
      await browser.close();
      await close();
    }
  });
});
