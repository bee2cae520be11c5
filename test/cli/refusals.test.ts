import { linkSync, mkdirSync, readFileSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { railfault, station, workshop } from "./launch.ts";

const { folder, file, close } = workshop();
afterAll(close);
const good = file("good.yaml", station());
mkdirSync(join(folder, "stations"));
linkSync(good, join(folder, "twin.csv"));
symlinkSync(good, join(folder, "link.csv"));

/** Refused before any work: status 2, nothing on the standard output, no stack trace, nothing that moves a terminal. */
async function refused(...words: string[]): Promise<string> {
  const { status, stdout, stderr } = await railfault(...words);
  expect(stdout).toBe("");
  expect(stderr).not.toMatch(/ at .*:\d+:\d+\)|mistake of the program/);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  expect(stderr).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f]/);
  expect(status).toBe(2);
  return stderr;
}

describe("wrong words", () => {
  test.each<[what: string, words: string[], said: string[]]>([
    ["no command", [], ["Usage: railfault COMMAND", "check"]],
    ["an unknown command", ["rum", "x.yaml"], ['no command "rum"', 'did you mean "run"']],
    [
      "an unknown option",
      ["run", "x.yaml", "--tolerence", "1e-8"],
      ["no option --tolerence", "did you mean --tolerance"],
    ],
    [
      "all wrong words at once",
      ["run", "--jsn", "--svg"],
      ["no option --jsn", "--svg needs a value: FILE", "scenario file is missing"],
    ],
    ["an option in place of a value", ["run", "x.yaml", "--csv", "--json"], ["--csv needs a value"]],
    ["two files", ["run", "a.yaml", "b.yaml"], ['"b.yaml": this command takes only one name']],
    [
      "an unknown method",
      ["run", "x.yaml", "--method", "rodas5"],
      ["rodas5p, rodas4, odex", 'received "rodas5"', "did you mean"],
    ],
    ["a tolerance that is none", ["run", "x.yaml", "--tolerance", "1"], ["from 1e-12 to 1e-3", 'received "1"']],
    ["a time without a unit", ["run", "x.yaml", "--until", "5"], ['--until "5"', "unit"]],
    ["a trace for nobody", ["run", "x.yaml", "--trace"], ["--trace belongs to --json"]],
    ["colours for and against", ["run", "x.yaml", "--colour", "--no-colour"], ["exclude each other"]],
    ["a value twice", ["run", "x.yaml", "--csv", "a", "--csv", "b"], ["--csv stands twice"]],
    ["an unknown kind of part", ["parts", "fuss"], ['"fuss"', 'did you mean "fuse"']],
    ["help on what is not there", ["help", "rnu"], ['did you mean "run"']],
  ])("%s", async (_, words, said) => {
    const message = await refused(...words);
    for (const words of said) expect(message).toContain(words);
  });
});

describe("files that cannot be read", () => {
  test.each<[what: string, path: string, said: string]>([
    ["a missing one", join(folder, "nowhere.yaml"), "there is no such file"],
    ["a folder", folder, "is a folder, not a file"],
    ["a path through a file", join(good, "x.yaml"), "part of its path is no folder"],
    [
      "Latin-1",
      file("latin.yaml", Buffer.from("title: a\nambient: 20 \xb0C\n", "latin1")),
      "is not UTF-8 text (line 2)",
    ],
    ["a huge one", file("huge.yaml", `# ${"x".repeat(2 << 20)}`), "is larger than 1024 KB"],
    ["an empty one", file("empty.yaml", ""), "The file is empty"],
    ["binary", file("binary.yaml", Buffer.from([0, 1, 2, 27, 91, 51, 49, 109])), "error"],
    ["a name that would paint the terminal", join(folder, "\u001b[31mred.yaml"), "there is no such file"],
  ])("%s", async (_, path, said) => {
    expect(await refused("run", path)).toContain(said);
  });
});

describe("files that may not be written", () => {
  test.each<[what: string, target: string, said: string]>([
    ["the scenario itself", good, "this file is read here"],
    ["a second name of it", join(folder, "twin.csv"), "this file is read here"],
    ["a link to it", join(folder, "link.csv"), "this file is read here"],
    ["a folder", join(folder, "stations"), "this is a folder"],
    ["in a folder that is not there", join(folder, "nowhere/out.csv"), "its folder does not exist"],
  ])("%s", async (_, target, said) => {
    expect(await refused("run", good, "--csv", target)).toContain(said);
    expect(readFileSync(good, "utf8")).toBe(station());
  });

  test("the same one twice", async () => {
    const out = join(folder, "both");
    expect(await refused("run", good, "--svg", out, "--png", out)).toContain("--svg already writes there");
  });
});

test("a refused file says so in JSON too", async () => {
  const { status, stdout, stderr } = await railfault(
    "run",
    file("typo.yaml", station().replace("ambient", "ambinet")),
    "--json",
  );
  const result = JSON.parse(stdout);
  expect(result).toMatchObject({ format: "railfault-result 1", status: "refused", exitStatus: 2 });
  expect(result.issues[0]).toMatchObject({ severity: "error", code: "unknown-key", position: { line: 2, column: 1 } });
  expect(stderr).toContain("typo.yaml:2:1");
  expect(status).toBe(2);
});
