import { execFile } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { demoFiles, readmeDemo } from "../../packages/sim/scripts/readme-demo.ts";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { root } from "../ground/files.ts";
import { readDocument, tableRows } from "./markdown.ts";
import { figureDifferences, piecesMissing, roughly } from "./similar.ts";

const start = promisify(execFile);
const readme = readDocument("README.md");
const blocks = (language: string) => readme.blocks.filter((block) => block.language === language);
const launcher = join(root, "packages/sim/bin/railfault.mjs");

/** A folder in which the README's commands find what they name; inside the checkout, so that packages resolve. */
let folder = "";
beforeAll(() => {
  mkdirSync(join(root, "out"), { recursive: true });
  folder = mkdtempSync(join(root, "out/readme-"));
  for (const name of ["packages", "test"]) symlinkSync(join(root, name), join(folder, name), "dir");
});
afterAll(() => {
  for (const name of ["packages", "test"]) rmSync(join(folder, name));
  rmSync(folder, { recursive: true });
});

describe("the example's output", () => {
  const regenerate = "run: npx tsx packages/sim/scripts/readme-demo.ts";

  test("is what the program prints and draws", async () => {
    const { text, svg } = await readmeDemo();
    expect(roughly(readFileSync(`${demoFiles}.txt`, "utf8")), regenerate).toBe(roughly(text));
    expect(figureDifferences(readFileSync(`${demoFiles}.svg`, "utf8"), svg), regenerate).toEqual([]);
  });

  test("stands in the README piece by piece", () => {
    const [shown] = blocks("text");
    expect(shown?.text).toContain("…");
    expect(piecesMissing(shown?.text ?? "", readFileSync(`${demoFiles}.txt`, "utf8"))).toEqual([]);
  });

  test("is what `npm start` runs", () => {
    const task = readFileSync(join(root, ".ci/task.mjs"), "utf8");
    expect(task).toContain('example = "packages/sim/scenarios/01-shorted-pass-transistor.yaml"');
  });
});

describe("the scenario file", () => {
  const [shown] = blocks("yaml");
  const shipped = readFileSync(join(root, "packages/sim/scenarios/01-shorted-pass-transistor.yaml"), "utf8");

  test("is the shipped one without its opening comment", () => {
    expect(shown?.text).toBe(shipped.replace(/^(?:#.*\n)+/, ""));
  });

  test("runs, and ends as the README says", () => {
    const result = runScenario(shown?.text ?? "", "README.md");
    expect(result.kind === "answered" && result.verdict.exitStatus).toBe(0);
  });

  test("is explained block by block", () => {
    const explained = tableRows(readme, "block", "says").flatMap(([keys = ""]) =>
      [...keys.matchAll(/`([^`]+)`/g)].map((match) => match[1]),
    );
    const keys = [...(shown?.text ?? "").matchAll(/^([a-z][a-z ]*):/gm)].map((match) => match[1]);
    expect(keys.length).toBeGreaterThan(5);
    expect(explained).toEqual(expect.arrayContaining(keys));
  });
});

test("the exit statuses are the command's own", async () => {
  const { run } = await import("../../packages/sim/src/cli/run.ts");
  const rows = tableRows(readme, "exit status of `run`", "means");
  expect(rows.map(([status]) => Number(status))).toEqual(run.statuses.map(([status]) => status));
  // What decides stands in both, so that a script can be written after either.
  for (const [status, ...reasons] of [
    [0, "estimate of what the run cuts off"],
    [1, "above its window (also within what it stands)", "too close to call", "on its way up when the run ends"],
    [4, "beyond its rating", "if nobody acts"],
  ] as const) {
    const words = run.statuses.find(([each]) => each === status)?.[1];
    const means = rows.find(([each]) => Number(each) === status)?.[1];
    for (const reason of reasons) for (const said of [words, means]) expect(said).toContain(reason);
  }
});

describe.skipIf(process.platform === "win32")("the commands", () => {
  const lines = blocks("sh")
    .flatMap(({ text }) => text.split("\n"))
    .map((line) => line.replace(/\s+#.*$/, ""))
    .filter((line) => line !== "" && !/^npm (?:start|test|run [\w:]+)$/.test(line));

  test("run without a complaint and write what they name", async () => {
    const [copy = "", ...rest] = lines;
    expect(copy).toMatch(/^cp .* hut\.yaml$/);
    const shell = (line: string) => start("sh", ["-c", asCalled(line)], { cwd: folder });
    await shell(copy);
    expect(rest.length).toBeGreaterThan(5);
    // Two at a time: as many as the smallest machine has cores.
    const queue = [...rest];
    const work = async () => {
      for (let line = queue.shift(); line !== undefined; line = queue.shift()) await shell(line);
    };
    await Promise.all([work(), work()]);
    const written = rest.flatMap((line) => [...line.matchAll(/(?:> |--(?:png|svg|csv) )(\S+)/g)].map((m) => m[1]));
    expect(readdirSync(folder)).toEqual(expect.arrayContaining(written));
    expect(written.length).toBeGreaterThan(3);
  }, 60_000);

  /** `npm run -s railfault --` changes to the top of the checkout unless npm tells where it was called. */
  function asCalled(line: string): string {
    const call = `'${process.execPath}' '${launcher}'`;
    return line.replace(/^npm run -s railfault --/, call);
  }

  test("TypeScript prints the verdict of the file it reads", async () => {
    const [program] = blocks("ts");
    writeFileSync(join(folder, "mine.ts"), program?.text ?? "");
    writeFileSync(join(folder, "hut.yaml"), blocks("yaml")[0]?.text ?? "");
    const { stdout } = await start(process.execPath, ["--import", "tsx", "mine.ts"], { cwd: folder });
    expect(stdout).toContain("The relay radio never saw more than 14.7 V: within its limit of 15.9 V");
  }, 30_000);
});

describe("the limits and cautions", () => {
  test("name every limit that the verdict names", async () => {
    const { CAUTIONS } = await import("../../packages/sim/src/verdict/cautions.ts");
    const limits = /with its limits: (.+)\.$/.exec(CAUTIONS.at(-1) ?? "")?.[1]?.split(", ") ?? [];
    expect(limits.length).toBe(4);
    for (const limit of limits) expect(readme.prose.toLowerCase()).toContain(limit.toLowerCase());
  });

  test("are not missing", () => {
    for (const words of [
      "hundreds of amperes",
      "fire",
      "burns",
      "Capacitors stay charged",
      "battery cannot be switched off",
      "current-limited source into a dummy load",
      "Find the fault before replacing a fuse",
      "Local codes and licensed practice come first",
    ])
      expect(readme.prose).toContain(words);
  });
});
