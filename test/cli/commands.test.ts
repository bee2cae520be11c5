import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { findPart, parts } from "../../packages/sim/src/scenario/parts/index.ts";
import { root } from "../ground/files.ts";
import { railfault, station, unwrapped, workshop } from "./launch.ts";

const { file, close } = workshop();
afterAll(close);

const broken = join(root, "test/scenario/broken/05-minima.yaml");
const example = join(root, "test/scenario/valid/example.yaml");

describe("help", () => {
  test("tells the job and every command", async () => {
    const { status, stdout } = await railfault("--help");
    for (const name of ["run", "check", "match", "parts", "reference", "schema"])
      expect(stdout).toMatch(new RegExp(`^  ${name} `, "m"));
    expect(stdout).toContain("12 V line");
    expect(status).toBe(0);
    expect((await railfault("help")).stdout).toBe(stdout);
  });

  test.each(["run", "check", "match", "parts", "reference", "schema"])(
    "of %s tells usage, options and exit status",
    async (name) => {
      const { status, stdout } = await railfault("help", name);
      expect(stdout).toContain(`Usage: railfault ${name}`);
      expect(stdout).toContain("Exit status");
      expect(stdout).toContain("--help, -h");
      expect(stdout.split("\n").every((line) => line.length <= 80)).toBe(true);
      expect(status).toBe(0);
    },
  );

  test("comes with --help anywhere after the command too", async () => {
    expect((await railfault("run", "x.yaml", "--help")).stdout).toBe((await railfault("help", "run")).stdout);
  });

  test("--version gives that of the package", async () => {
    const manifest = JSON.parse(readFileSync(join(root, "packages/sim/package.json"), "utf8"));
    expect((await railfault("--version")).stdout).toBe(`railfault ${manifest.version}\n`);
  });
});

describe("check", () => {
  test("reads every file, tells every problem, and says which can be run", async () => {
    const far = file("far.yaml", station({ lead: "900 m" }));
    const { status, stdout } = await railfault("check", example, broken, far, "nowhere.yaml");
    expect(stdout).toContain("example.yaml: can be run");
    expect(stdout).toContain("[fuse-above-scr]");
    expect(stdout).toContain("05-minima.yaml: CANNOT BE RUN");
    expect(stdout.match(/\[too-small\]/g)?.length).toBeGreaterThan(3);
    expect(stdout).toContain("[starved-at-rest]");
    expect(stdout).toContain('"nowhere.yaml" cannot be read: there is no such file.');
    expect(stdout).toContain("4 files: 1 can be run, 3 cannot");
    expect(status).toBe(2);
  });

  test("lets warnings pass", async () => {
    expect((await railfault("check", example)).status).toBe(0);
  });

  test("gives the same as JSON", async () => {
    const { status, stdout } = await railfault("check", example, broken, "--json");
    const [first, second] = JSON.parse(stdout);
    expect(first).toMatchObject({ file: example, usable: true, issues: [{ severity: "warning" }] });
    expect(second.usable).toBe(false);
    expect(second.issues.length).toBeGreaterThan(4);
    expect(status).toBe(2);
  });
});

describe("parts", () => {
  test("lists every class and each value with mark and source", async () => {
    const { status, stdout } = await railfault("parts");
    for (const { name } of parts) expect(stdout).toContain(`  ${name}: `);
    const fuse = unwrapped((await railfault("parts", "Blade fuse 20A")).stdout);
    const source = findPart("fuse", "blade fuse 20 A")?.values.coldResistance.source;
    expect(fuse).toContain(`3.38 mΩ (transcribed: ${source})`);
    expect(fuse).toContain("assumed");
    expect(fuse).toContain("2 ×: 150 ms to 5 s");
    expect(fuse).not.toContain("mini blade fuse");
    expect(status).toBe(0);
  });

  test("lists one kind, only names, or JSON in SI units", async () => {
    const names = (await railfault("parts", "fuse", "--names")).stdout;
    expect(names).toContain("  blade fuse 20 A: ");
    expect(names).not.toContain("SCR 25 A");
    const [only] = JSON.parse((await railfault("parts", "blade fuse 20 A", "--json")).stdout);
    expect(only).toEqual(JSON.parse(JSON.stringify(findPart("fuse", "blade fuse 20 A"))));
  });
});

describe("schema", () => {
  test("of results is another one", async () => {
    const { status, stdout } = await railfault("schema", "result");
    expect(status).toBe(0);
    expect((JSON.parse(stdout) as { title: string }).title).toBe("Railfault result");
  });

  test("of anything else is refused", async () => {
    const { status, stderr } = await railfault("schema", "verdict");
    expect(status).toBe(2);
    expect(stderr).toContain('There is no schema "verdict": allowed are scenario and result');
  });

  test("is the one an editor can use", async () => {
    const { status, stdout } = await railfault("schema");
    const schema = JSON.parse(stdout);
    expect(schema.$schema).toContain("2020-12");
    expect(Object.keys(schema.properties)).toContain("main fuse");
    expect(status).toBe(0);
  });
});

describe("reference", () => {
  test("refuses what is no reference file", async () => {
    const { status, stdout, stderr } = await railfault("reference", file("cases.json", "{"));
    expect(stdout).toBe("");
    expect(stderr).toContain("This is no reference file");
    expect(status).toBe(2);
  });
});
