import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { scenarioJsonSchema } from "../../packages/sim/src/scenario/index.ts";

type Json = Record<string, unknown>;
const schema = scenarioJsonSchema();
const read = (name: string): unknown => parse(readFileSync(join(import.meta.dirname, name), "utf8"));

/** Enough of a validator for the keywords that this schema uses; any other keyword fails the test below. */
function problems(value: unknown, rule: Json, path: string): string[] {
  if (rule.anyOf !== undefined) {
    const branches = (rule.anyOf as Json[]).map((branch) => problems(value, branch, path));
    return branches.some((found) => found.length === 0) ? [] : [`${path}: none of the alternatives`];
  }
  if (rule.const !== undefined) return value === rule.const ? [] : [`${path}: not ${String(rule.const)}`];
  if (rule.enum !== undefined) return (rule.enum as unknown[]).includes(value) ? [] : [`${path}: not in the list`];
  const kind = Array.isArray(value) ? "array" : value === null ? "null" : typeof value;
  const types = [rule.type].flat();
  if (!types.includes(kind)) return [`${path}: ${kind} instead of ${types.join(" or ")}`];
  if (Array.isArray(value)) {
    const size =
      value.length < Number(rule.minItems ?? 0) || value.length > Number(rule.maxItems ?? 1e9) ? [`${path}: size`] : [];
    return [...size, ...value.flatMap((item, index) => problems(item, rule.items as Json, `${path}[${index}]`))];
  }
  if (typeof value === "string") {
    const fits = rule.pattern === undefined || new RegExp(String(rule.pattern), "u").test(value);
    return fits && value.length <= Number(rule.maxLength ?? 1e9) ? [] : [`${path}: not such a text`];
  }
  if (kind !== "object") return [];
  const map = value as Json;
  const properties = (rule.properties ?? {}) as Record<string, Json>;
  // Where keys are the user's own, one rule speaks for all of them.
  const ofOwn = typeof rule.additionalProperties === "object" ? (rule.additionalProperties as Json) : null;
  const absent = ((rule.required ?? []) as string[])
    .filter((key) => !Object.hasOwn(map, key))
    .map((key) => `${path}: no ${key}`);
  return [
    ...absent,
    ...Object.entries(map).flatMap(([key, inner]) => {
      const own = Object.hasOwn(properties, key) ? properties[key] : ofOwn;
      return own === null ? [`${path}: ${key}?`] : problems(inner, own, `${path}.${key}`);
    }),
  ];
}

function everyRule(rule: Json): Json[] {
  const inner = [
    ...((rule.anyOf as Json[]) ?? []),
    ...Object.values((rule.properties as Record<string, Json>) ?? {}),
    ...(rule.items === undefined ? [] : [rule.items as Json]),
  ];
  return [rule, ...inner.flatMap(everyRule)];
}

test("it is plain JSON of the 2020-12 draft with keywords that the draft knows", () => {
  expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
  expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
  const known = [
    "$schema",
    "title",
    "description",
    "examples",
    "type",
    "properties",
    "required",
    "additionalProperties",
    "anyOf",
    "items",
    "enum",
    "const",
    "minItems",
    "maxItems",
    "maxLength",
    "pattern",
    "propertyNames",
  ];
  const rules = everyRule(schema);
  expect(rules.length).toBeGreaterThan(200);
  expect([...new Set(rules.flatMap((rule) => Object.keys(rule)))].filter((key) => !known.includes(key))).toEqual([]);
  // Whose keys are the user's own: paths of values.
  const own = (schema.properties as Record<string, Json>).tolerances;
  expect(own.additionalProperties).toMatchObject({ type: "string" });
  for (const rule of rules.filter((each) => each.type === "object" && each !== own))
    expect(rule.additionalProperties).toBe(false);
});

test("every key says what it is for", () => {
  const bare = everyRule(schema).flatMap(({ properties }) =>
    Object.entries((properties as Record<string, Json>) ?? {}).filter(
      ([, rule]) =>
        rule.anyOf === undefined && rule.type !== "object" && rule.type !== "array" && rule.description === undefined,
    ),
  );
  expect(bare.map(([key]) => key)).toEqual([]);
});

test.each(["valid/example.yaml", "valid/everything.yaml"])("an editor accepts %s", (name) => {
  expect(problems(read(name), schema, "")).toEqual([]);
});

describe("an editor marks", () => {
  test("misspelt keys and words", () => {
    const found = problems(read("broken/02-names.yaml"), schema, "");
    expect(found).toContain(": titel?");
    expect(found).toContain(".sources[0]: nmae?");
    expect(found).toContain(".loads[0].kind: not in the list");
    expect(found).toContain(".crowbar: none of the alternatives");
  });

  test("what must be there", () => {
    expect(problems(read("broken/03-missing.yaml"), schema, "")).toEqual(
      expect.arrayContaining([": no fault at", ": no run for"]),
    );
  });

  test("the wrong kind of thing", () => {
    expect(problems(read("broken/07-shapes.yaml"), schema, "").length).toBeGreaterThan(8);
  });
});
