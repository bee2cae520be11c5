import type { CaptureResult, LayoutCorrections } from "@railfault/sim";
import { captureData, judgeCapture, renderJudgement } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const lines = (head: string, count: number, row: (k: number) => string, foot = ""): string =>
  `${head}\n${Array.from({ length: count }, (_, k) => row(k)).join("\n")}\n${foot}`;
const times = ({ capture }: CaptureResult) => Array.from(capture?.time ?? []);
const volts = ({ capture }: CaptureResult) => Array.from(capture?.channels[0]?.values ?? []);
const two = (k: number) => String(k).padStart(2, "0");
const v = (k: number) => (13 + k / 10).toFixed(1);

describe("what loggers write beside numbers is read, and what is left out is said", () => {
  test.each<[what: string, text: string]>([
    ["dates with dots", lines("Time;V", 5, (k) => `01.03.2026 10:00:0${k};${v(k).replace(".", ",")}`)],
    ["dates with slashes, the year first", lines("Time,V", 5, (k) => `2026/03/01 10:00:0${k},${v(k)}`)],
    ["dates of which nothing changes", lines("Time,V", 5, (k) => `03/01/2026 10:00:0${k},${v(k)}`)],
    ["twelve hours", lines("Time,V", 5, (k) => `${k < 3 ? `11:59:5${k + 7} AM` : `12:00:0${k - 3} PM`},${v(k)}`)],
    ["date and time in two columns", lines("Date,Time,V", 5, (k) => `2026-03-01,10:00:0${k},${v(k)}`)],
    ["units behind the numbers", lines("Time,V", 5, (k) => `10:00:0${k},${v(k)} V`)],
    ["a column of one word", lines("Time,V,Mode", 5, (k) => `${k},${v(k)},DC AUTO`)],
    ["a column of remarks", lines("Time,V,Note", 5, (k) => `${k},${v(k)},${k === 3 ? "start" : ""}`)],
    ["a footer", lines("Time,V", 5, (k) => `${k},${v(k)}`, "End of log\nSamples,5\n")],
    [
      "a meter that writes all of it",
      lines(
        "Meter log;V DC\nSerial;n.a.\n\nNo.;Date;Time;Value;Unit;Mode",
        5,
        (k) =>
          `${k + 1};${k < 2 ? "01" : "02"}.03.2026;${["23:59:58", "23:59:59", "00:00:00", "00:00:01", "00:00:02"][k]};${v(k).replace(".", ",")};V;DC`,
      ),
    ],
  ])("%s", (_, text) => {
    const result = read(text);
    expect(result.issues.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(times(result)).toEqual([0, 1, 2, 3, 4]);
    expect(volts(result)).toEqual([13, 13.1, 13.2, 13.3, 13.4]);
    expect(result.capture?.channels).toHaveLength(1);
  });

  test("words and footer are told", () => {
    const { understood, issues } = read(lines("Time,V,Mode", 5, (k) => `${k},${v(k)},DC`, "End of log\n"));
    expect(understood).toContain('Column 3, "Mode", holds words and is left out.');
    expect(issues).toMatchObject([{ code: "below-table", severity: "warning" }]);
    expect(issues[0]?.message).toContain('from line 7 on, stands what is no row of it, and is left out: "End of log"');
  });

  test("a column of units gives the unit, and a changed one is refused", () => {
    const units = (unit: (k: number) => string) => lines("t,Value,Unit", 5, (k) => `${k},${1000 + k},${unit(k)}`);
    expect(read(units(() => "mV")).layout?.channels).toMatchObject([{ unit: "mV" }]);
    expect(read(units((k) => (k < 3 ? "mV" : "V"))).issues).toMatchObject([
      { code: "unit-changes", received: "V", position: { line: 5 } },
      { code: "unit-changes" },
    ]);
    expect(read(lines("t,U", 5, (k) => `${k},${v(k)} ${k < 3 ? "V" : "mV"}`)).issues[0]).toMatchObject({
      code: "no-number",
      received: "13.3 mV",
      allowed: expect.stringContaining("in V where a unit stands behind it"),
    });
  });
});

describe("dates that begin with day or month", () => {
  const days = (row: (k: number) => string, corrections: LayoutCorrections = {}) =>
    read(
      lines("Time,V", 6, (k) => `${row(k)} 10:00,${v(k)}`),
      { corrections },
    );

  test("a part above 12 proves which", () => {
    expect(times(days((k) => `03/${two(11 + k)}/2026`))[5]).toBe(5 * 86_400);
    expect(times(days((k) => `${two(11 + k)}/03/2026`))[5]).toBe(5 * 86_400);
    expect(days((k) => `${two(11 + k)}/03/2026`).layout?.time?.unit).toBe("day first");
  });

  test("else it is asked for, and told", () => {
    const written = (k: number) => `03/${two(1 + k)}/2026`;
    const { status, issues } = days(written);
    expect(status).toBe("refused");
    expect(issues).toMatchObject([
      {
        code: "date-order",
        received: expect.stringContaining("03/01/2026, then 03/02/2026"),
        hint: 'say which comes first (--time "1, day first" or "1, month first")',
      },
    ]);
    expect(times(days(written, { time: 1, timeUnit: "month first" }))[5]).toBe(5 * 86_400);
    expect(times(days(written, { time: 1, timeUnit: "day first" }))[1]).toBe(31 * 86_400);
  });
});

describe("a file's own clock is told once, times count from the first sample", () => {
  const rows = (k: number) => `2026-03-01T10:00:00.${k}00Z,1380${k}`;
  const { capture, understood } = read(lines("timestamp,voltage_mV", 10, rows));

  test("in sentences, figures and picture", () => {
    const judgement = judgeCapture(capture!, { low: null, high: null });
    expect(understood).toContain(
      "Times count from the first sample, by the file's own clock 2026-03-01T10:00:00.000Z.",
    );
    expect(renderJudgement(judgement, 500)).toMatch(/Highest: 13\.8\d+ V .* at 900 ms\./);
    const picture = captureData(capture!, judgement);
    expect([picture.from, picture.to]).toEqual([0, 0.9]);
    expect(picture.facts).toContain("the first at 2026-03-01T10:00:00.000Z by the file's clock");
  });

  test("seconds since 1970 as well; small times stay as they are", () => {
    expect(times(read(lines("t (s),U", 3, (k) => `${1772359200 + k},${v(k)}`)))).toEqual([0, 1, 2]);
    expect(times(read(lines("t (s),U", 3, (k) => `${k - 1},${v(k)}`)))).toEqual([-1, 0, 1]);
  });

  test("days of a spreadsheet are no seconds", () => {
    const serial = lines(
      "Time;U",
      30,
      (k) => `${(45_000 + k / 86_400).toFixed(8).replace(".", ",")};${v(k).replace(".", ",")}`,
    );
    const result = read(serial);
    expect(times(result)[29]).toBeCloseTo(29, 2);
    expect(result.layout?.time).toMatchObject({ unit: "d", from: "2023-03-15 00:00:00" });
    expect(times(read(lines("Time,U", 30, (k) => `${45_000 + k / 4},${v(k)}`)))[1]).toBe(45_000.25);
    const told = { corrections: { time: 1, timeUnit: "d" } };
    expect(
      times(
        read(
          lines("Time,U", 3, (k) => `${k / 4},${v(k)}`),
          told,
        ),
      )[2],
    ).toBe(43_200);
  });
});

describe("what stays refused says where and what helps", () => {
  test("segments with head lines are several recordings, in one issue", () => {
    const one = (n: number) => lines(`Segment,${n}\nTrigTime,${n}.5\nTIME,CH1`, 50, (k) => `${k}e-6,${v(k % 9)}`);
    const { issues } = read(`${one(1)}${one(2)}`);
    expect(issues.filter(({ severity }) => severity === "error")).toMatchObject([
      {
        code: "rows-after-words",
        message: expect.stringContaining("Lines 54 to 56"),
        hint: expect.stringContaining("keep one recording a file"),
        position: { line: 54 },
      },
    ]);
  });

  test("the first line that is nearly one of a table, and its cell", () => {
    const { issues } = read(lines("logger\nTime,V", 5, (k) => `${k}, ${v(k)} kp`));
    expect(issues).toMatchObject([
      {
        code: "no-table",
        received: "13.0 kp",
        position: { line: 3, column: 3 },
        hint: expect.stringContaining("--delimiter"),
      },
    ]);
  });

  test("options are named", () => {
    expect(read("U\n13\n14\n").issues[0]?.hint).toContain("--interval");
    expect(read("time,U\n7,1\n7,2\n7,3\n").issues[0]?.hint).toContain("--time");
  });
});
