import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { root } from "../ground/files.ts";

const example = readFileSync(join(import.meta.dirname, "valid/example.yaml"), "utf8");

function named(source: string, load: string) {
  const text = example
    .replace("name: bench supply", `name: "${source}"`)
    .replace("name: relay radio", `name: "${load}"`);
  return parseScenario(text, "named.yaml");
}

const codes = (source: string, load: string) =>
  named(source, load)
    .issues.filter(({ severity }) => severity === "error")
    .map(({ code, path }) => [code, path]);

// A load called `crowbar` once took the place of the real one: the verdict then spoke of an SCR with a tenth of its current.
describe("a name that the results already use is refused", () => {
  test.each(["crowbar", "main fuse", "protected side", "series  switch", "line capacitors", "crowbar_sense"])(
    "%s",
    (name) => {
      expect(codes("bench supply", name)).toEqual([["taken-name", "loads[0].name"]]);
      expect(codes(name, "relay radio")).toEqual([["taken-name", "sources[0].name"]]);
    },
  );

  test.each(["lead", "fuse", "clamp", "own crowbar", "own_crowbar_sense"])("that of a source with %s", (part) => {
    expect(codes("hut", `hut ${part}`)).toEqual([["taken-name", "loads[0].name"]]);
  });

  test("two names that differ by blanks alone", () => {
    expect(codes("hut radio", "hut_radio")).toEqual([["duplicate-name", "loads[0].name"]]);
  });

  test("others are good", () => {
    for (const name of ["radio", "Crowbar 2", "lead", "fuse", "constructor", "hut fuse"]) {
      expect(codes("bench supply", name)).toEqual([]);
    }
  });
});

test.each([
  "valid/everything.yaml",
  ...readdirSync(join(root, "packages/sim/scenarios")).map((name) => `../../packages/sim/scenarios/${name}`),
])("no two columns of %s have one name", (path) => {
  const { scenario } = parseScenario(readFileSync(join(import.meta.dirname, path), "utf8"), path);
  const columns = new Simulation(scenario!).result().trace.columns.map(({ name }) => name);
  expect(columns.length).toBeGreaterThan(5);
  expect(new Set(columns).size).toBe(columns.length);
});
