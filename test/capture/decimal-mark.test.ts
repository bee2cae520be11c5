import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const highest = (text: string, options = {}) => {
  const { status, capture, issues } = read(text, options);
  if (status !== "read" || capture === null) return issues.map(({ code }) => code).join();
  return Math.max(...(capture.channels[0]?.values ?? []));
};

describe("a comma may part thousands or decimals: what else stands in the table decides", () => {
  test.each<[what: string, text: string, highest: number]>([
    ["a comma before a point", '"t","U (mV)"\n"0","13,800.5"\n"1","13,801.5"\n', 13.8015],
    ["two commas", '"t","U (µV)"\n"0","1,380,000"\n"1","1,390,000"\n', 1.39],
    ["a point in another column", '"t","U (mV)"\n"0.5","13,800"\n"1.5","13,801"\n', 13.801],
    [
      "a time that would fall",
      `"t (us)","U (mV)"\n${[980, 990, 1000, 1010].map((t, k) => `"${t.toLocaleString("en-US")}","13,80${k}"`).join("\n")}\n`,
      13.803,
    ],
    ["a unit behind it", '"t","U"\n"0.5","13,800 mV"\n"1.5","13,801 mV"\n', 13.801],
    ["a point before a comma", "t;U (mV)\n0;13.800,5\n1;13.801,5\n", 13.8015],
    ["apostrophes", "t;U (mV)\n0;13'800\n1;13'801.5\n", 13.8015],
    ["narrow spaces", "t;U (mV)\n0;13\u202f800,5\n1;13\u202f801,5\n", 13.8015],
    ["two digits behind it somewhere", "t;U\n0;13,800\n1;13,85\n", 13.85],
    ["a zero before it", "t;U\n0,001;13,800\n0,002;13,850\n", 13.85],
    ["a number of four digits without one", "t;U (mV)\n0;1200\n1;1,250\n", 1.2],
    ["points, with which instruments write decimals", "t;U\n0;13.800\n1;13.801\n", 13.801],
  ])("%s", (_, text, expected) => {
    expect(highest(text)).toBeCloseTo(expected, 9);
  });

  test.each([
    ["quotes", '"t","U (mV)"\n"0","13,800"\n"1","13,801"\n'],
    ["semicolons", "t;U (mV)\n0;13,800\n1;13,801\n"],
  ])("where nothing does both readings are told, and an option decides: %s", (_, text) => {
    const { status, layout, issues } = read(text);
    expect(status).toBe("refused");
    expect(layout?.channels).toHaveLength(1);
    expect(issues).toMatchObject([
      {
        code: "either-mark",
        message: expect.stringContaining('"13,800" may be 13800 or 13.8'),
        hint: expect.stringContaining("--decimal point: 13800; --decimal comma: 13.8"),
        position: { line: 2, length: 6 },
      },
    ]);
    expect(highest(text, { corrections: { decimal: "." } })).toBeCloseTo(13.801, 9);
    expect(highest(text, { corrections: { decimal: "," } })).toBeCloseTo(0.013801, 9);
  });
});
