import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

/** A recording over and over, each of so many samples from −0.5 ms on. */
function recordings(times: number, samples: number): string {
  const one = Array.from(
    { length: samples },
    (_, k) => `${((k - samples / 2) * 1e-6).toFixed(7)},${13.8 + (k % 9) / 100}`,
  );
  return `time (s),radio (V)\n${Array.from({ length: times }, () => one.join("\n")).join("\n")}\n`;
}

describe("recordings one after the other are refused, with the lines where they begin", () => {
  test.each([
    [2, 3],
    [2, 10],
    [2, 100],
    [2, 1000],
    [3, 1000],
    [100, 1000],
  ])("%i of %i samples", (times, samples) => {
    const { status, issues } = read(recordings(times, samples));
    expect(status).toBe("refused");
    const [issue] = issues.filter(({ code }) => code === "time-restarts");
    expect(issue!.message).toContain(`there seem to be ${times} recordings in this file`);
    expect(issue!.message).toContain(`near line ${samples + 2}`);
    expect(issue!.hint).toBe(`keep one recording a file: the first ends near line ${samples + 1}`);
    expect(issue!.received).toMatch(times === 2 ? /^1 step back/ : /^\d+ steps back/);
  });

  test("also where the second begins at another time", () => {
    const rows = (from: number) => Array.from({ length: 400 }, (_, k) => `${from + k},${13 + (k % 7) / 10}`).join("\n");
    expect(read(`t,U\n${rows(0)}\n${rows(90)}\n`).status).toBe("refused");
  });
});

test("jitter of a few steps is put in order", () => {
  const times = Array.from({ length: 400 }, (_, k) => (k % 17 === 5 ? k - 3.5 : k));
  const { status, issues } = read(`t,U\n${times.map((t, k) => `${t},${13 + (k % 7) / 10}`).join("\n")}\n`);
  expect(status).toBe("read");
  expect(issues.map(({ code }) => code)).toEqual(["repeated-times", "backward-times"].slice(1));
});
