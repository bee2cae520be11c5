import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { linePages } from "../../../packages/notebooks/src/pages/capture/taking.ts";
import { readChannelField } from "../../../packages/notebooks/src/pages/capture/written.ts";
import { root } from "../../ground/files.ts";

test("a fitted line goes on to every page that takes a line in hand", () => {
  const folder = join(root, "packages/notebooks/pages");
  const taking = readdirSync(folder).filter((page) => /\bopenLine\(/.test(readFileSync(join(folder, page), "utf8")));
  expect(taking.length).toBeGreaterThan(8);
  // The page itself takes it in hand; Start has a line of its own.
  const others = taking.filter((page) => !["capture.html", "index.html", "writing.html"].includes(page));
  expect(linePages.map(([page]) => page as string).toSorted()).toEqual(others.toSorted());
});

describe("a field about a channel", () => {
  test.each([
    ["offset", "12 mV", 0.012],
    ["offset", "-0.2 A", -0.2],
    ["amperesPerVolt", "shunt 1 mohm", 1000],
    ["amperesPerVolt", "10 mV/A", 100],
    ["deskew", "12 ns", 12e-9],
  ] as const)("%s takes %j", (field, value, said) => {
    const read = readChannelField(2, field, value);
    expect(read.issues).toEqual([]);
    expect(read.said[field]).toBeCloseTo(said, 12);
  });

  test.each([
    ["offset", "abc", "Shows for nothing", /12 mV/],
    ["offset", "12 ns", "Shows for nothing", /12 mV/],
    ["offset", "3 V, inverted", "Shows for nothing", /12 mV/],
    ["amperesPerVolt", "inverted", "Shunt or clamp", /shunt 1 mohm/],
    ["deskew", "5 V", "Shows it later by", /12 ns/],
  ] as const)("%s refuses %j under its own name, and says what it takes", (field, value, label, allowed) => {
    const { said, issues } = readChannelField(2, field, value);
    expect(said).toEqual({});
    expect(issues).toHaveLength(1);
    expect(issues[0].message).toBe(`Column 2, “${label}”: this cannot be read.`);
    expect(issues[0].received).toBe(value);
    expect(issues[0].allowed).toMatch(allowed);
    expect(issues[0].allowed).not.toMatch(/COLUMN/);
  });

  test("that is empty says nothing", () => {
    expect(readChannelField(2, "offset", "")).toEqual({ said: {}, issues: [] });
  });
});
