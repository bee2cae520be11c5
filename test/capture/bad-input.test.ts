import { judgeCapture, LARGEST_CAPTURE, readCorrections } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const codes = (text: string | Uint8Array, options = {}) =>
  read(text, options)
    .issues.filter(({ severity }) => severity === "error")
    .map(({ code }) => code);

describe("refused, with a reason", () => {
  test.each<[what: string, content: string | Uint8Array, code: string]>([
    ["nothing", "", "empty-file"],
    ["blank lines", "\n \n\n", "empty-file"],
    ["text that is no table", "Dear club,\nthe supply is broken, again.\nGreetings\n", "no-table"],
    ["a program", Uint8Array.from([0x7f, 0x45, 0x4c, 0x46, 0, 1, 2, 3, 0, 0, 0, 0]), "binary-file"],
    ["one column without an interval", "U (V)\n1\n2\n3\n", "no-time"],
    ["a time and nothing else", "t (s)\n1\n2\n3\n", "no-channel"],
    ["values all equal", "t,U\n0,5\n1,5\n2,5\n", "all-equal"],
    ["values all equal in each channel", "t,U,I (A)\n0,5,0\n1,5,0\n2,5,0\n", "all-equal"],
    ["a time that stands still", "time,U\n7,1\n7,2\n7,3\n", "time-stands"],
    ["a time in volts", "time (V),U (V)\n0,1\n1,2\n2,3\n", "wrong-unit"],
    ["a weight and nothing else", "time (s),load (kg)\n0,21\n1,22\n", "no-channel"],
    ["a unit that nobody knows", "time (s),load (kp)\n0,21\n1,22\n", "wrong-unit"],
    ["a unit that nobody knows beside one that everybody does", "t [s],U [V],x [qu]\n0,1,2\n1,2,3\n", "wrong-unit"],
    ["a temperature and nothing else", "time (s),oven (°C)\n0,21\n1,22\n", "no-channel"],
    [
      "two recordings",
      `t,U\n${[...Array(3000).keys(), ...Array(3000).keys()].map((k) => `${k},${k % 9}`).join("\n")}\n`,
      "time-restarts",
    ],
    ["words among numbers", "t,U\n0,1\n1,2\n2,high\n3,4\n4,5\n", "no-number"],
    ["a line with more cells", "t,U\n0,1\n1,2\n2,3,4\n3,4\n4,5\n", "too-many-cells"],
    ["a quote that stays open", 't,U\n0,1\n1,2\n2,"3\n3,4\n', "open-quote"],
    ["a single line of numbers", "t,U\n0,1\n", "no-table"],
  ])("%s", (_, content, code) => {
    expect(codes(content)).toContain(code);
  });

  test.each(["V", "mV", "Volt", "A", "amps"])("but not the unit %s", (unit) => {
    expect(codes(`t (ms),U (${unit})\n0,1\n1,2\n`)).toEqual([]);
  });

  test.each(["CH1", "C2", "1", "rear left", "radio", "DC"])("nor the name in brackets %s, without a unit", (word) => {
    const { layout, issues } = read(`t (s),U (${word})\n0,1\n1,2\n`);
    expect(issues).toEqual([]);
    expect(layout?.channels).toMatchObject([{ name: `U (${word})`, unit: "V" }]);
  });

  test("a column in parsecs", () => {
    expect(codes("t,U\n0,1\n1,2\n", { corrections: { channels: [{ column: 2, unit: "pc" }] } })).toEqual([
      "wrong-unit",
    ]);
  });

  test("more than eight channels, a column that is not there, one that is the time", () => {
    const row = (k: number) => Array.from({ length: 10 }, (_, c) => k + c).join(",");
    expect(codes(`${row(0)}\n${row(1)}\n${row(2)}\n`)).toContain("too-many-channels");
    const corrections = { channels: [{ column: 1 }, { column: 7 }] };
    expect(codes("t,U\n0,1\n1,2\n", { corrections })).toEqual(["no-such-column", "time-as-channel"]);
  });
});

test("each with its place, what was received and what is allowed; what was understood stays", () => {
  const result = read("t,U,I\n0,1,1\n1,2,2\n2,high,3\n3,4,low\n4,5,5\n");
  expect(result.status).toBe("refused");
  expect(result.issues.filter(({ severity }) => severity === "error")).toMatchObject([
    {
      code: "no-number",
      received: "high",
      allowed: "a number with a decimal point, or nothing",
      position: { line: 4, column: 3, length: 4, excerpt: "2,high,3" },
    },
    { code: "no-number", received: "low", position: { line: 5, column: 5, length: 3 } },
  ]);
  expect(result.layout?.channels.map(({ name }) => name)).toEqual(["U", "I"]);
  expect(result.capture?.time.length).toBe(5);
});

test("a hundred words are five issues and a count", () => {
  const result = read(`t,U\n0,1\n1,2\n2,3\n${Array.from({ length: 100 }, (_, k) => `${k + 3},x${k}`).join("\n")}\n`);
  expect(result.issues).toHaveLength(5);
  expect(result.issues[4]?.message).toContain("There are 95 more of this kind.");
});

test("a gigabyte is refused before a byte of it is read, and one that lies about its size on the way", () => {
  const result = read("t,U\n0,1\n", { size: 1 << 30 });
  expect(result).toMatchObject({ status: "refused", capture: null });
  expect(result.issues).toMatchObject([
    { code: "too-large", received: "1024 MB", allowed: `${LARGEST_CAPTURE >> 20} MB` },
  ]);
});

test("the end may be asked for twice", async () => {
  const { CaptureReader } = await import("@railfault/sim");
  const reader = new CaptureReader({ file: "twice.csv" });
  reader.push("t [ms],U [mV]\n0,1\n1,2\n");
  expect(reader.end()).toBe(reader.end());
  expect(Array.from(reader.end().capture?.time ?? [])).toEqual([0, 0.001]);
});

test("a reading that is stopped keeps what came so far", async () => {
  const { readCapture } = await import("@railfault/sim");
  const signal = { aborted: false };
  const pieces = function* () {
    yield `t,U\n${Array.from({ length: 20_000 }, (_, k) => `${k},${k}`).join("\n")}\n`;
    signal.aborted = true;
    yield "20000,20000\n";
  };
  const result = await readCapture(pieces(), { file: "long.csv", signal });
  expect(result.status).toBe("stopped");
  expect(result.capture?.time.length).toBe(20_000);
});

test("corrections in words that are none are all told, with those that are", () => {
  expect(readCorrections({ limits: "16" }).issues).toMatchObject([
    {
      message: "These are no limits of a voltage. The unit is missing: a voltage is wanted here.",
      hint: "write `16 V`",
    },
  ]);
  const { corrections, issues } = readCorrections({ delimiter: "pipe", decimal: "dot", interval: "0 s" });
  expect(corrections).toEqual({});
  expect(issues.map(({ path, received, allowed }) => [path, received, allowed])).toEqual([
    ["interval", "0 s", "a time with its unit, such as 2 us"],
    ["delimiter", "pipe", "comma, semicolon, tab"],
    ["decimal", "dot", "point, comma"],
  ]);
  expect(readCorrections({ delimiter: "tab", decimal: "comma" })).toMatchObject({
    corrections: { delimiter: "\t", decimal: "," },
    issues: [],
  });
});

describe("a channel whose values are all equal beside one that changes", () => {
  const rows = Array.from({ length: 300 }, (_, k) => [`${k}e-4`, k > 100 && k < 130 ? 17.7 : 13 + (k % 9) / 100]);
  const judged = (heading: string, value: string) => {
    const { capture, issues } = read(
      `t (s),radio (V),${heading}\n${rows.map((row) => `${row.join(",")},${value}`).join("\n")}\n`,
    );
    return { issues, ...judgeCapture(capture!, { low: 11.7, high: 15.9 }) };
  };

  test("a current that did not flow is told and kept, and the voltage judged", () => {
    const { issues, channels, exitStatus } = judged("SCR (A)", "0");
    expect(issues).toMatchObject([{ code: "all-equal", severity: "warning", path: "column 3", received: "0 A" }]);
    expect(channels.map(({ name, passed, highest: { value } }) => [name, passed, value])).toEqual([
      ["radio", true, 17.7],
      ["SCR", false, 0],
    ]);
    expect(exitStatus).toBe(1);
  });

  test("of a voltage it is not known whether it stays within the limit; one above it passes", () => {
    const within = judged("line (mV)", "13800");
    expect(within.issues).toMatchObject([{ code: "all-equal", received: "13.8 V" }]);
    expect(within.channels[1]).toMatchObject({ passed: false, tooClose: true });
    expect(within.channels[1]!.findings[0]!.sentence).toContain("is not known: all its values are equal");
    expect(judged("line (V)", "20").channels[1]).toMatchObject({ passed: true, tooClose: false });
  });
});

test.each([
  [1, "in 1 sample:"],
  [2, "in 2 samples:"],
])("out of range %i times: %s", (count, said) => {
  const { issues } = read(`t,U\n${Array.from({ length: 50 }, (_, k) => `${k},${k < count ? "OL" : k}`).join("\n")}\n`);
  expect(issues.map(({ message }) => message).join(" ")).toContain(said);
});
