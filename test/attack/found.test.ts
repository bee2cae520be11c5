import { judgeCapture, renderJudgement } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { csvTable } from "../../packages/sim/src/report/csv.ts";
import { itemPieces } from "../../packages/sim/src/scenario/text/take-out.ts";
import { read } from "../capture/read.ts";
import { railfault, station, workshop } from "../cli/launch.ts";

// What hostile inputs found, each as small as it goes.

describe("a capture", () => {
  test("of samples less than 1e-100 s apart is judged in words that have an end", () => {
    const { capture } = read("t,U\n0,1\n1e-300,2\n2e-300,5\n3e-300,1\n");
    expect(renderJudgement(judgeCapture(capture!, { low: null, high: 4 }), 80)).not.toMatch(/NaN|undefined/);
  });

  test("of values whose squares are no numbers was out of its instrument's range", () => {
    const { capture } = read("t,U\n0,1\n1,2\n2,1e176\n3,1\n4,3\n5,2\n");
    expect(capture?.channels[0]).toMatchObject({ outOfRange: 1 });
    const { capture: largest } = read("t,U\n0,1\n1,2\n2,-1.7976931348623157e308\n3,1\n");
    expect(largest?.channels[0]).toMatchObject({ outOfRange: 1 });
  });

  test("with a heading of 60 000 blanks is read in a moment", () => {
    const begin = performance.now();
    read(`t,"x${" ".repeat(60_000)}("\n0,1\n1,2\n2,1\n`);
    expect(performance.now() - begin).toBeLessThan(5000);
  });
});

test("a target whose path leads through a file, or is too long, is refused before the work", async () => {
  const { file, close } = workshop();
  const hut = file("hut.yaml", station());
  for (const path of [`${hut}/x.csv`, `/${"x".repeat(5000)}`]) {
    const { status, stdout, stderr } = await railfault("run", hut, "--csv", path);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/this cannot be written: (?:part of its path is no folder|its name is too long)\./);
  }
  close();
});

test("a name that begins like a formula is text in a table, and numbers are numbers", () => {
  const table = [...csvTable(["=cmd()", "-3", "+12 V rail", "@x"], [["-0.001", "=1+1", -5, null]])].join("");
  expect(table).toBe("'=cmd(),-3,'+12 V rail,'@x\r\n-0.001,'=1+1,-5,\r\n");
});

test("the dash before an entry is found behind a thousand remarks and blank lines, and behind a byte order mark none is", () => {
  const text = `-\r\n${"# x -\r\n\n".repeat(1000)}  x`;
  const pieces = (content: string) =>
    itemPieces(content, [{ kind: "text", from: content.length - 1, to: content.length, value: "x" }]);
  expect(pieces(text)).toEqual([{ from: 0, to: text.length }]);
  expect(pieces("\ufeff\n\nx")).toEqual([{ from: 3, to: 4 }]);
});
