import { describe, expect, test } from "vitest";
import { readArguments } from "../../packages/sim/src/cli/arguments.ts";
import { type Command, UsageError } from "../../packages/sim/src/cli/command.ts";
import { fit } from "../../packages/sim/src/cli/fit.ts";
import { run } from "../../packages/sim/src/cli/run.ts";

const read = (...words: string[]) => readArguments(run, words);

function problems(command: Command, ...words: string[]): readonly string[] {
  try {
    readArguments(command, words);
  } catch (error) {
    if (error instanceof UsageError) return error.problems;
    throw error;
  }
  return [];
}

describe("a time", () => {
  test.each([["5 ms"], ["5ms"], ["5", "ms"], ["2 min 5 s"]])("may stand as %j %j", (...time) => {
    expect(read("hut.yaml", "--until", ...time).values.get("until")).toBe(time.join(" "));
    expect(read("hut.yaml", "--until", ...time).names).toEqual(["hut.yaml"]);
  });

  test("may stand behind an equals sign", () => {
    expect(read("--until=5", "ms", "hut.yaml").values.get("until")).toBe("5 ms");
  });

  test("does not take a file for its unit", () => {
    const { names, values } = read("--until", "5", "hut.yaml");
    expect(names).toEqual(["hut.yaml"]);
    expect(values.get("until")).toBe("5");
  });

  test("takes no unit from behind another option", () => {
    expect(problems(run, "hut.yaml", "--csv", "5", "ms")).toEqual(['"ms": this command takes only one name.']);
  });
});

test("options stand in any place, two dashes end them", () => {
  expect(read("--json", "--", "--odd.yaml").names).toEqual(["--odd.yaml"]);
  expect([...read("hut.yaml", "--json", "--trace").switches]).toEqual(["json", "trace"]);
});

test("the other spelling of an option is the same option", () => {
  expect(read("hut.yaml", "--no-color").switches.has("no-colour")).toBe(true);
});

test("a switch takes no value", () => {
  expect(problems(run, "hut.yaml", "--json=yes")).toEqual(["--json takes no value."]);
});

test("names of an object's own machinery are unknown options like others", () => {
  for (const name of ["--constructor", "--__proto__", "--toString"]) {
    expect(problems(run, "hut.yaml", name)[0]).toContain(`There is no option ${name}`);
  }
});

test("letters behind one dash are one word that is told once, however many there are", () => {
  const [said, ...more] = problems(run, "hut.yaml", "-json");
  expect(said).toContain("There is no option -json: did you mean --json?");
  expect(more).toEqual([]);
  expect(problems(run, "hut.yaml", `-v${"9".repeat(3000)}`)).toHaveLength(1);
});

test("what stands behind an option that nobody knows is not told as a name too many", () => {
  const said = problems(run, "hut.yaml", "--untl", "5ms");
  expect(said).toHaveLength(1);
  expect(said[0]).toContain("did you mean --until");
});

test("two names that are missing are missing", () => {
  expect(problems(fit)).toEqual(["The scenario file and the capture are missing."]);
});

test("all problems come at once", () => {
  expect(problems(run, "--jsn", "--method", "euler", "a", "b")).toHaveLength(3);
});
