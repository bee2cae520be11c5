import { existsSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { readCases } from "../reference/put.ts";
import { railfault, station, unwrapped, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const broken = file("broken.yaml", station().replace("100 W radio", "100 W radoi"));
const good = file("good.yaml", station());
const at = (name: string): string => join(folder, name);

describe("a scenario with errors is refused by every command, and nothing is written", () => {
  const page = at("page.html");
  test.each<[string, string[]]>([
    ["card", ["--html", page]],
    ["reset", ["--html", page]],
    ["handout", ["--html", page]],
    ["talk", [good, "--html", page]],
    ["whatif", ["--x", "crowbar.trip voltage: 14..17 V", "--csv", page]],
    ["whatif", ["--x", "crowbar.trip voltage: 14..17 V", "--at", "15 V", "--scenario", page]],
    ["tolerances", ["--csv", page]],
    ["match", ["--markdown", page]],
    ["compare", ["--svg", page]],
    ["trip", ["--svg", page]],
  ])("%s %j", async (command, words) => {
    const { status, stdout, stderr } = await railfault(command, broken, ...words);
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain("100 W radoi");
    expect(existsSync(page)).toBe(false);
  });

  test.each<[string, string[]]>([
    ["reset", []],
    ["card", []],
    ["whatif", ["--x", "crowbar.trip voltage: 14..17 V"]],
    ["trip", []],
  ])("%s tells it as JSON where that is asked for", async (command, words) => {
    const { status, stdout } = await railfault(command, broken, ...words, "--json");
    expect(status).toBe(2);
    const { issues, version } = JSON.parse(stdout) as { issues: { received: string }[]; version: string };
    expect(issues[0].received).toBe("100 W radoi");
    expect(version).toMatch(/^\d+\.\d+\.\d+/);
  });
});

describe("words that nobody knows are told with those that there are", () => {
  test.each<[string[], string]>([
    [["xyzzyxyzzy"], "schema. See railfault --help."],
    [["run", good, "--xyzzyxyzzy"], "There is no option --xyzzyxyzzy: known are --"],
    [["schema", "--xyzzyxyzzy"], "There is no option --xyzzyxyzzy: known are none."],
    [["parts", "xyzzyxyzzyxyzzy"], "see railfault parts --names."],
    [["parts", "fuse", "lamp"], '"lamp": this command takes only one name.'],
    [["capture", "-"], "A capture is read from a file."],
    [["fit", good, "-"], "A capture is read from a file."],
    [["tolerances", good, good], "this command takes one scenario, or --merge and parts."],
    [["tolerances", good, "--part", "one"], '--part is I/N with I from 1 to N, N at most 10000; received "one"'],
    [
      ["whatif", good, "--x", "ambient: 0..9 °C", "--y", "crowbar.trip voltage: 14..17 V", "--points", "7"],
      "--points belongs to a sweep; a plane has --most.",
    ],
    [["match", good, "--keep", at("nowhere/kept.json")], "its folder does not exist; make it first."],
  ])("%j", async (words, said) => {
    const { status, stderr } = await railfault(...words);
    expect(status).toBe(2);
    expect(unwrapped(stderr)).toContain(said);
  });

  test("a word of thousands of letters is told by its ends", async () => {
    const { stderr } = await railfault("run", good, good, `${"a".repeat(9000)}.yaml`);
    expect(stderr).toContain("…");
    expect(stderr.length).toBeLessThan(5000);
  });
});

test("behind -- nothing is an option: a file may be called --help", async () => {
  const { status, stdout } = await railfault("check", "--", "--help");
  expect(status).toBe(2);
  expect(stdout).toContain("--help: CANNOT BE RUN");
});

describe("check", () => {
  test("tells of a file that cannot be read among others, as text and as JSON", async () => {
    const { status, stdout } = await railfault("check", good, at("gone.yaml"));
    expect(status).toBe(2);
    expect(stdout).toContain("good.yaml: can be run");
    expect(stdout).toContain("gone.yaml: CANNOT BE RUN");
    expect(stdout).toContain("2 files: 1 can be run, 1 cannot");
    const told = JSON.parse((await railfault("check", at("gone.yaml"), "--json")).stdout);
    expect(told).toMatchObject([{ usable: false, issues: [{ code: "unreadable-file" }] }]);
  });
});

describe("reference", () => {
  const [{ case: given, expected }] = readCases();
  const energy = expected.energy as { fed: number };
  const one = (fed: number) => JSON.stringify([{ case: given, expected: { energy: { ...energy, fed } } }]);

  test("compares a file, prints a table, ends with 0 or 1", async () => {
    const { status, stdout } = await railfault("reference", file("good.json", one(energy.fed)));
    expect(status).toBe(0);
    expect(stdout).toContain("All 4 figures of 1 case agree.");
    expect((await railfault("reference", file("bad.json", one(1)), "--method", "rodas4")).status).toBe(1);
  });

  test("gives JSON, and refuses what is no reference file", async () => {
    const { stdout } = await railfault("reference", file("good.json", one(energy.fed)), "--json");
    expect(JSON.parse(stdout)).toMatchObject({ exitStatus: 0, cases: [{ figures: 4, error: null }] });
    const none = await railfault("reference", good);
    expect(none.status).toBe(2);
    expect(none.stderr).toContain("This is no reference file: the file is not JSON");
  });
});

test("part classes are listed by name as JSON", async () => {
  const { stdout } = await railfault("parts", "fuse", "--names", "--json");
  const names = JSON.parse(stdout) as string[];
  expect(names).toContain("blade fuse 20 A");
  expect(names.every((name) => name.includes("fuse"))).toBe(true);
});
