import { formatQuantity, groupDigits } from "@railfault/sim";
import { expect, test } from "vitest";
import { keepUnits, textWidth } from "../../packages/sim/src/report/figure/text.ts";
import { formatNumber } from "../../packages/sim/src/report/figure/time-format.ts";
import { show, times } from "../../packages/sim/src/verdict/words.ts";

test.each([
  ["0", "0"],
  ["5400 times", "5400 times"],
  ["9999 A²s", "9999 A²s"],
  ["10000 A²s", "10\u202f000 A²s"],
  ["1234567.891234", "1\u202f234\u202f567.891234"],
  ["0.00012345", "0.00012345"],
  ["2e10", "2e10"],
])("whole numbers from 10 000 on are grouped: %s", (given, grouped) => {
  expect(groupDigits(given)).toBe(grouped);
});

test("sentences and figures keep one rule; what is read back has no groups", () => {
  expect([show(342000, "I2t"), times(100000), formatNumber(342000)]).toEqual([
    "342\u202f000 A²s",
    "100\u202f000 times",
    "342\u202f000",
  ]);
  expect(formatQuantity(342000, "I2t")).toBe("342000 A²s");
});

test("a number stays on the line of its unit", () => {
  expect(keepUnits("317 ms, 9.82 s and 342\u202f000 A²s in 3 places")).toBe(
    "317\u00a0ms, 9.82\u00a0s and 342\u202f000\u00a0A²s in 3 places",
  );
  expect(textWidth("\u202f", 12)).toBeLessThan(textWidth("\u00a0", 12));
});
