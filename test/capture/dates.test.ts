import type { Issue } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const errors = ({ issues }: { readonly issues: readonly Issue[] }) =>
  issues.flatMap(({ code, message, received, allowed, hint, position }) =>
    code === "no-number" ? [{ message, received, allowed, hint, line: position?.line }] : [],
  );

describe("dates with two digits of the year", () => {
  test("a part above 12 tells which one is the month; with dots the day comes first", () => {
    const american = read("when,radio (V)\n03/14/24 23:59:59,13.8\n03/15/24 00:00:01,13.9\n");
    expect(american.capture?.layout.time).toMatchObject({ unit: "month first", from: "03/14/24 23:59:59" });
    expect([...(american.capture?.time ?? [])]).toEqual([0, 2]);
    const german = read("when;radio (V)\n04.03.24 23:59:59;13,8\n05.03.24 00:00:02;13,9\n");
    expect([...(german.capture?.time ?? [])]).toEqual([0, 3]);
  });

  test("where neither part is above 12 and the time decides, the order has to be told", () => {
    const { issues } = read("when,radio (V)\n03/04/24 10:00:00,13.8\n04/04/24 10:00:00,13.9\n");
    expect(issues.map(({ code, received }) => [code, received])).toContainEqual([
      "date-order",
      "03/04/24, then 04/04/24 10:00:00",
    ]);
  });
});

describe("a cell that is no time is told as what belongs there", () => {
  const days = "2024-03-14,10:00:00,13.8\n2024-03-14,10:00:01,13.9\n2024-03-14,10:00:02,13.8\n";

  test("a date of its own column, where an empty cell is none either", () => {
    expect(errors(read(`date,time of day,radio (V)\n${days}2024-13-45,10:00:03,13.9\n,10:00:04,13.9\n`))).toEqual(
      ["2024-13-45", ""].map((received, k) => ({
        message: "Column 1 holds something that is no date.",
        received,
        allowed: "a date",
        hint: "give each line its time, or leave the line out",
        line: 5 + k,
      })),
    );
  });

  test("a date that is all the time there is", () => {
    expect(
      errors(read("date,radio (V)\n2024-03-14,13.8\n2024-03-15,13.9\n2024-03-16,13.8\n2024-13-45,13.9\n")),
    ).toMatchObject([
      {
        message: "Column 1 holds something that is no date or time of day.",
        allowed: "a date or time of day",
        line: 5,
      },
    ]);
  });

  test("a plain number, of the time or of a channel", () => {
    const found = errors(read("time (s),radio (V)\n0,13.8\n1,13.9\n2,13.8\n3 x 4,13.9\n4,13 or so\n"));
    expect(found.map(({ message, allowed, hint }) => [message, allowed, hint])).toEqual([
      [
        "Column 1 holds something that is no number.",
        "a number with a decimal point",
        "give each line its time, or leave the line out",
      ],
      [
        "Column 2 holds something that is no number.",
        "a number with a decimal point, or nothing",
        "leave the cell empty where nothing was recorded, or the column out (--channel names those that are read)",
      ],
    ]);
  });
});

test("a second column of times is left out, and that is told", () => {
  const rows = ["10:00:01,1", "10:00:02,2", "10:00:03,3"].map((rest, k) => `2024-03-14 10:00:0${k},${rest}`);
  const { capture, understood } = read(`stamp,end,line (V)\n${rows.join("\n")}\n`);
  expect(understood).toContain("Column 2 holds dates or times of day and is left out: another one is the time.");
  expect(capture?.layout.channels.map(({ column }) => column)).toEqual([3]);
  expect([...(capture?.time ?? [])]).toEqual([0, 1, 2]);
});

test("times of day that pass midnight twice go on over two days", () => {
  const hours = ["20:00", "02:00", "08:00", "14:00", "20:00", "02:00"];
  const { capture, issues } = read(`time,line (V)\n${hours.map((hour, k) => `${hour},${12 + k}`).join("\n")}\n`);
  expect([...(capture?.time ?? [])]).toEqual([0, 6, 12, 18, 24, 30].map((hour) => 3600 * hour));
  expect(issues.map(({ message }) => message).join(" ")).toContain("The times of day pass midnight 2 times,");
});

test("times that fall from line to line are refused: another column is meant", () => {
  const { issues } = read("time (s),line (V)\n5,13.8\n4,13.9\n3,13.8\n2,13\n");
  expect(issues).toMatchObject([
    {
      code: "time-restarts",
      message: "The time falls more often than it rises.",
      hint: "say which column holds the time (--time)",
    },
  ]);
});
