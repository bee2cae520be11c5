import { LARGEST_CAPTURE, readCapture, readCorrections } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const channel = (text: string) => {
  const { corrections, issues } = readCorrections({ channel: text });
  return { told: issues.map(({ message, received }) => [message, received]), channel: corrections.channels?.[0] };
};

describe("what is said of a probe", () => {
  test.each<[string, number]>([
    ["2 A/mV", 2000],
    ["4 V/A", 0.25],
    ["20 mV/A", 50],
    ["100 A/V", 100],
    ["shunt 2 mohm", 500],
  ])("%s are %d A for a volt", (words, amperesPerVolt) => {
    const found = channel(`2: probe, ${words}`);
    expect(found.told).toEqual([]);
    expect(found.channel?.amperesPerVolt).toBeCloseTo(amperesPerVolt, 9);
  });

  test("a shunt of nothing turns no voltage into a current", () => {
    expect(channel("2: probe, shunt 0 ohm").told).toEqual([
      ["The resistance of a shunt is more than nothing.", "shunt 0 ohm"],
    ]);
  });

  test("a channel may be late or early", () => {
    expect(channel("2: probe, deskew -12 ns").channel).toEqual({ column: 2, name: "probe", deskew: -12e-9 });
    expect(channel("2: probe, deskew 12 ns").channel).toEqual({ column: 2, name: "probe", deskew: 12e-9 });
  });

  const TABLE = "time (s),probe (A)\n0,1\n1,2\n2,3\n";
  const refused = (text: string): unknown =>
    read(TABLE, { corrections: readCorrections({ channel: text }).corrections }).issues.map(({ code, message }) => [
      code,
      message,
    ]);

  test("of what is in amperes already there is nothing to be turned", () => {
    expect(refused("2: probe, A, 100 A/V")).toEqual([
      ["wrong-unit", 'A shunt or clamp turns volts into amperes, but "probe" is in amperes already.'],
    ]);
  });

  test("a factor that no probe has is refused", () => {
    expect(refused("2: probe, A, 10000000000000×")).toEqual([
      ["bad-factor", 'Attenuation, offset and A/V of "probe" are not those of any probe.'],
    ]);
  });
});

test("an attenuation that the file names is taken to be in its numbers already", () => {
  const { capture, understood } = read("Attenuation,10\ntime (s),probe (V)\n0,1\n1,2\n2,3\n");
  expect(understood).toContain('Line 1 names "Attenuation", 10: the numbers are taken to have it in them already.');
  expect([...(capture?.channels[0].values ?? [])]).toEqual([1, 2, 3]);
});

test("a column that there is not is told with those that there are, by number where they have no name", () => {
  const { issues } = read("time (s),,probe (V)\n0,1,2\n1,2,3\n2,3,4\n", {
    corrections: readCorrections({ time: "9" }).corrections,
  });
  expect(issues[0]).toMatchObject({ code: "no-such-column", received: "9", allowed: "1 (time), 2, 3 (probe)" });
});

test.each([
  ["seconds, which would be no voltage", "time (s),probe (V)\n0,1\n1,2\n2,3\n"],
  ["dates, which would be no numbers", "when,probe (V)\n2026-03-01 10:00:00,1\n2026-03-01 10:00:01,2\n"],
  ["a sample interval beside them", "Sample interval,1 s\ntime (s),probe (V)\n0,1\n1,2\n2,3\n"],
])("of %s nothing else is told where another column was asked for", (_, text) => {
  const { status, issues, layout } = read(text, { corrections: { time: 9 } });
  expect(status).toBe("refused");
  expect(issues.map(({ code }) => code)).toEqual(["no-such-column"]);
  expect(layout?.columns).toBe(2);
});

test("an interval of nothing is no interval", () => {
  const { issues } = read("a (V),b (V)\n5,1\n3,2\n1,3\n", { corrections: { interval: 0 } });
  expect(issues).toMatchObject([{ code: "no-time", received: "0" }]);
});

describe("a header names its unit in words, too", () => {
  const named = (header: string): unknown =>
    read(`${header}\n0,1\n1,2\n2,3\n`).capture?.layout.channels.map(({ name, unit }) => [name, unit]);

  test.each<[string, string, string]>([
    ["time in ms,Supply in V", "Supply", "V"],
    // Of a converter and of a channel called d, not of days.
    ["time (s),A/D", "A/D", "V"],
    ["time (s),ch_d", "ch_d", "V"],
  ])("%s", (header, name, unit) => {
    expect(named(header)).toEqual([[name, unit]]);
  });

  test("where it is one that nobody knows, the column keeps its whole heading as its name", () => {
    expect(read("(ms),(kp)\n0,1\n1,2\n2,3\n").issues).toMatchObject([
      { code: "wrong-unit", message: 'The unit of column 2, "(kp)", says nothing about a voltage or a current.' },
    ]);
  });
});

describe("bytes that are no ASCII", () => {
  test("text of two bytes a letter with the larger byte first, taken in odd pieces", () => {
    const text = "\ufefftime (s),Zuführung (V)\n0,13.8\n1,13.9\n2,13.8\n";
    const bytes = Uint8Array.from(
      { length: 2 * text.length },
      (_, k) => (text.charCodeAt(k >> 1) >> (k % 2 ? 0 : 8)) & 0xff,
    );
    const { capture, issues } = read(bytes, { piece: 7 });
    expect(issues).toEqual([]);
    expect(capture?.channels.map(({ name, values }) => [name, [...values]])).toEqual([
      ["Zuführung", [13.8, 13.9, 13.8]],
    ]);
  });
});

describe("what is larger than is read", () => {
  test("is refused before its first piece where its size is known", async () => {
    let asked = false;
    const pieces = function* () {
      asked = true;
      yield "t,U\n0,1\n1,2\n";
    };
    const { status, issues } = await readCapture(pieces(), { file: "long.csv", size: LARGEST_CAPTURE + 1 });
    expect([status, issues.map(({ code }) => code), asked]).toEqual(["refused", ["too-large"], false]);
  });
});
