import type { CaptureResult } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const numbers = ({ capture }: CaptureResult) => ({
  time: Array.from(capture?.time ?? []),
  values: (capture?.channels ?? []).map(({ values }) => Array.from(values)),
});
const clean = (result: CaptureResult): CaptureResult => {
  expect(result.issues).toEqual([]);
  expect(result.status).toBe("read");
  return result;
};

describe("ways of writing, recognised by themselves", () => {
  test.each<[string, string, { time: number[]; values: number[][] }]>([
    [
      "commas, a row of names with units",
      "time (s),radio (V)\n0,13.8\n1e-6,13.9\n2e-6,14\n",
      { time: [0, 1e-6, 2e-6], values: [[13.8, 13.9, 14]] },
    ],
    [
      "semicolons and decimal commas",
      "t [ms];U [mV]\r\n0,5;13800\r\n1,5;13900\r\n2,5;-14000\r\n",
      { time: [0.0005, 0.0015, 0.0025], values: [[13.8, 13.9, -14]] },
    ],
    ["semicolons and points", "0.5;1.5\n1.5;2.5\n2.5;2.25\n", { time: [0.5, 1.5, 2.5], values: [[1.5, 2.5, 2.25]] }],
    [
      "tabs and decimal commas",
      "t\tU\n0,1\t1,5\n0,2\t1,25\n0,3\t1\n",
      { time: [0.1, 0.2, 0.3], values: [[1.5, 1.25, 1]] },
    ],
    [
      "quoted decimal commas apart by commas",
      '"t","U"\n"0,1","1,5"\n"0,2","1,25"\n',
      { time: [0.1, 0.2], values: [[1.5, 1.25]] },
    ],
    [
      "a byte-order mark and a row of units",
      "\ufefftime,a,b\ns,V,mA\n0,1,1000\n1,2,2000\n2,3,2500\n",
      {
        time: [0, 1, 2],
        values: [
          [1, 2, 3],
          [1, 2, 2.5],
        ],
      },
    ],
    [
      "an interval in the preamble and no time",
      "Sample interval,2.0E-3,s\n\nradio_V\n1\n2\n4\n",
      { time: [0, 0.002, 0.004], values: [[1, 2, 4]] },
    ],
    [
      "a rate in the preamble and counted lines",
      "# sample rate: 2 kHz\nno,radio_V\n0,1\n1,2\n2,4\n",
      { time: [0, 0.0005, 0.001], values: [[1, 2, 4]] },
    ],
    [
      "scientific notation and an end without a line end",
      "0.0E+0,1.5E+1\n1.0E-3,-1.5E-1",
      { time: [0, 0.001], values: [[15, -0.15]] },
    ],
    ["old line ends", "t,U\r0,1\r1,2\r", { time: [0, 1], values: [[1, 2]] }],
    ["times of day", "time,U (V)\n23:59:58.5,1\n23:59:59,2\n", { time: [0, 0.5], values: [[1, 2]] }],
    [
      "no heading at all",
      "0,1,2\n1,2,3\n2,4,5\n",
      {
        time: [0, 1, 2],
        values: [
          [1, 2, 4],
          [2, 3, 5],
        ],
      },
    ],
  ])("%s", (_, text, expected) => {
    const found = numbers(clean(read(text)));
    expect(found.time.length).toBe(expected.time.length);
    for (const [k, t] of expected.time.entries()) expect(found.time[k]).toBeCloseTo(t, 12);
    expect(found.values.length).toBe(expected.values.length);
    for (const [c, values] of expected.values.entries())
      for (const [k, value] of values.entries()) expect(found.values[c]?.[k]).toBeCloseTo(value, 12);
  });

  test("names and units come from the row above, what stands above that is kept", () => {
    const { layout } = clean(read("Origin,bench\nSample interval,1,s\ntime (s),radio (V),clamp (mV)\n0,1,2\n1,2,3\n"));
    expect(layout).toMatchObject({
      delimiter: ",",
      decimal: ".",
      headerLine: 3,
      unitsLine: null,
      firstLine: 4,
      columns: 3,
      time: { column: 1, name: "time", unit: "s" },
      preamble: [
        { line: 1, key: "Origin", value: "bench" },
        { line: 2, key: "Sample interval", value: "1 s" },
      ],
    });
    expect(layout?.channels.map(({ name, unit }) => [name, unit])).toEqual([
      ["radio", "V"],
      ["clamp", "mV"],
    ]);
  });

  test("a line that says one thing in quotes is kept as that", () => {
    const { layout } = clean(read('"synthetic, by hand",,\ntime,a,b\ns,V,V\n0,1,2\n1,2,3\n'));
    expect(layout?.preamble).toEqual([{ line: 1, key: "synthetic, by hand", value: "" }]);
  });

  test("letters of Latin-1 and UTF-16 are understood", () => {
    const latin = Uint8Array.from([..."t (\u00b5s),U (V)\n0,1\n1,2\n"].map((c) => c.charCodeAt(0)));
    expect(numbers(read(latin)).time).toEqual([0, 1e-6]);
    const wide = "\ufefft (s);U (V)\n0;1\n1;2\n";
    const bytes = new Uint8Array(2 * wide.length);
    for (let k = 0; k < wide.length; k++) bytes.set([wide.charCodeAt(k) & 255, wide.charCodeAt(k) >> 8], 2 * k);
    expect(numbers(clean(read(bytes))).values).toEqual([[1, 2]]);
  });
});

describe("RFC 4180", () => {
  // Section 2, by its numbers; spaces belong to a field (4), which a number does not mind.
  test.each<[rule: string, text: string]>([
    ["1: each record on a line, ended by CR LF", "t,U\r\n0,1\r\n1,2\r\n"],
    ["2: the last one may have no end", "t,U\r\n0,1\r\n1,2"],
    ["3: a header line may stand first", "time_s,line_V\r\n0,1\r\n1,2\r\n"],
    ["5: fields may be quoted", '"t","U"\r\n"0","1"\r\n1,"2"\r\n'],
    ["6: quoted fields may hold commas and line ends", '"t, since\r\nswitching on","U, radio"\r\n0,1\r\n1,2\r\n'],
    ["7: a quote within is written twice", '"t","the ""radio"""\r\n0,1\r\n1,2\r\n'],
  ])("%s", (_, text) => {
    expect(numbers(clean(read(text)))).toEqual({ time: [0, 1], values: [[1, 2]] });
  });

  test("7: the quote is part of the name", () => {
    expect(read('"t","the ""radio"""\r\n0,1\r\n1,2\r\n').layout?.channels[0]?.name).toBe('the "radio"');
  });
});

describe("in pieces", () => {
  const text = `\ufefftime (s),"radio, °C (V)"\r\n${Array.from({ length: 300 }, (_, k) => `${k * 0.001},${k % 7 === 3 ? `"${k}"` : k}`).join("\r\n")}\r\n`;
  const bytes = new TextEncoder().encode(text);
  test.each([1, 2, 7, 64, 1000])("of %i bytes comes the same", (piece) => {
    const whole = numbers(clean(read(text)));
    expect(whole.values[0]).toEqual(Array.from({ length: 300 }, (_, k) => k));
    expect(numbers(clean(read(bytes, { piece })))).toEqual(whole);
    expect(numbers(clean(read(text, { piece })))).toEqual(whole);
  });

  test("numbers are read as the language reads them", () => {
    const written = [
      "0.1",
      "-9.999999999999999e29",
      "5e-324",
      "123456789012345678",
      "0.30000000000000004",
      "9007199254740993",
      "1e23",
      "-.5",
      "7.",
      "+3E2",
    ];
    const { capture } = read(`t,U\n${written.map((number, k) => `${k},${number}`).join("\n")}\n`);
    expect(Array.from(capture?.channels[0]?.values ?? [])).toEqual(written.map(Number));
  });
});

describe("what is not quite in order", () => {
  test("empty cells are gaps of their channel only", () => {
    const { capture } = clean(read("t,a,b\n0,1,5\n1,,6\n2,3,\n3,4,8\n"));
    expect(capture?.channels.map(({ gaps }) => gaps)).toEqual([1, 1]);
    expect(Array.from(capture?.channels[0]?.values ?? [])).toEqual([1, Number.NaN, 3, 4]);
  });

  test("times that go back are put in order, times that repeat are kept; both are told", () => {
    const result = read("t,U\n0,0\n1,1\n3,3\n2,2\n2,2.5\n4,4\n");
    expect(result.status).toBe("read");
    expect(numbers(result)).toEqual({ time: [0, 1, 2, 2, 3, 4], values: [[0, 1, 2, 2.5, 3, 4]] });
    expect(result.issues.map(({ code, severity }) => [code, severity])).toEqual([
      ["repeated-times", "warning"],
      ["backward-times", "warning"],
    ]);
    expect(result.issues[1]?.message).toContain("near line 5");
  });

  test("a cell beyond the range is told and is no number", () => {
    const result = read("t,U\n0,1\n1,OL\n2,3\n");
    expect(result.capture?.channels[0]).toMatchObject({ outOfRange: 1, gaps: 0 });
    expect(result.issues).toMatchObject([{ code: "out-of-range", severity: "warning" }]);
  });
});

test("one column is told as one", () => {
  const { understood } = read("Sample interval,2,s\n13\n14\n13\n");
  expect(understood[0]).toContain("are numbers in 1 column.");
});
