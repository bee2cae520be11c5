import {
  beyondInShort,
  type CaptureLimits,
  captureHeadline,
  judgeCapture,
  judgementCsv,
  tripsInShort,
} from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { read, table } from "./read.ts";

const OPEN: CaptureLimits = { low: null, high: null };
const WINDOW: CaptureLimits = { low: 11, high: 16 };

function judged(text: string, limits = OPEN) {
  const { capture } = read(text);
  if (capture === null) throw new Error("not read");
  return judgeCapture(capture, limits);
}

/** Even steps of a hundredth of a volt, so that no two samples are alike. */
const unrest = (k: number): number => 0.01 * (((k * 7919) % 13) - 6);

describe("where there is room for a few words", () => {
  const calm = table(200, 1e-3, (_, k) => 13.8 + unrest(k));
  const once = table(200, 1e-3, (_, k) => (k < 100 ? 13.8 : 0) + unrest(k));

  test("a line that never trips, held against nothing and against both limits", () => {
    const [channel] = judged(calm).channels;
    expect([tripsInShort(channel), beyondInShort(channel)]).toEqual(["none", "–"]);
    expect(beyondInShort(judged(calm, WINDOW).channels[0])).toBe("never");
  });

  test("one trip has no period", () => {
    const [channel] = judged(once, WINDOW).channels;
    expect(tripsInShort(channel)).toBe("1");
    expect(beyondInShort(channel)).toMatch(/^below 11 V: 99\.5 ms ± /);
  });
});

describe("the one sentence of a capture", () => {
  const channels = (...volts: ((k: number) => number)[]): string =>
    [
      `time (s),${volts.map((_, index) => `line ${index + 1} (V)`).join(",")}`,
      ...Array.from({ length: 200 }, (_, k) => [k / 1000, ...volts.map((of) => of(k).toFixed(3))].join(",")),
      "",
    ].join("\n");
  const within = (k: number): number => 13.8 + unrest(k);
  // How high it went between two samples nobody saw.
  const open = (k: number): number => (k === 100 ? 15.5 : 14 + unrest(k));
  const beyond = (k: number): number => (k > 50 && k < 80 ? 17 : 15) + unrest(k);

  test("is that of the channel which fares worst: first what passes the limit, then what nobody knows", () => {
    expect(captureHeadline(judged(channels(within, open, beyond), WINDOW))).toMatch(
      /^The peak voltage of "line 3", .*, passes the limit of 16 V\.$/,
    );
    expect(captureHeadline(judged(channels(within, open), WINDOW))).toMatch(
      /^Whether the peak voltage of "line 2" stays within the limit of 16 V is not known: /,
    );
    expect(
      captureHeadline(
        judged(
          channels(within, (k) => 12 + unrest(k)),
          WINDOW,
        ),
      ),
    ).toContain('"line 1"');
  });

  test("is the peak of a current where nothing else was recorded", () => {
    expect(captureHeadline(judged(table(200, 1e-3, (_, k) => 3 + unrest(k)).replace("line_V", "battery_A")))).toMatch(
      /^The peak of "battery" is 3\.06\d* A/,
    );
  });
});

describe("in the table of what was found", () => {
  const rows = (text: string): readonly string[] => [...judgementCsv(judged(text))].join("").split(/\r?\n/);

  test("stand the frequency and the decay of a ringing", () => {
    const ring = (t: number): number =>
      t < 1e-4 ? 0 : 12 - 12 * Math.exp(-(t - 1e-4) / 2e-4) * Math.cos(4e4 * Math.PI * (t - 1e-4));
    const found = rows(table(1000, 1e-6, ring));
    const told = (name: string): number => Number(found.find((row) => row.includes(`,${name},`))?.split(",")[3]);
    expect(told("ringing") / 20e3).toBeCloseTo(1, 2);
    expect(told("decay of ringing") / 200e-6).toBeCloseTo(1, 1);
  });

  test("a period that rounds without a sample may have missed is known upwards only", () => {
    const starts = [0, 0.3165, 0.633];
    const segments = starts.flatMap((start) =>
      Array.from(
        { length: 100 },
        (_, k) => `${(start + k * 5e-6).toFixed(6)},${((k < 40 ? 13.8 : 0.4) + unrest(k)).toFixed(3)}`,
      ),
    );
    const period = rows(`time_s,line_V\n${segments.join("\n")}\n`)
      .find((row) => row.includes(",period,"))
      ?.split(",");
    expect(Number(period?.[3])).toBeCloseTo(0.3165, 4);
    expect(period?.[4]).toBe("");
    expect(Number(period?.[5])).toBeGreaterThan(0);
  });
});

describe("marks of thousands that stand more than once, or before the decimals, tell which mark is which", () => {
  test.each<[string, readonly number[]]>([
    ["t;U (V)\n0;1,234.5\n1;1,235.5\n", [1234.5, 1235.5]],
    ["t;U (mV)\n0;13.800,5\n1;13.802,25\n", [13.8005, 13.80225]],
    ["t;U (uV)\n0;13,800,000\n1;13,801,000\n", [13.8, 13.801]],
    ["t;U (uV)\n0;13.800.000\n1;13.801.000\n", [13.8, 13.801]],
  ])("%j", (text, volts) => {
    const { capture, issues } = read(text);
    expect(issues.filter(({ severity }) => severity === "error")).toEqual([]);
    expect([...(capture?.channels[0].values ?? [])].map((value) => Number(value.toPrecision(9)))).toEqual(volts);
  });
});
