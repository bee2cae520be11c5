import { expect, test } from "vitest";
import { barFound, finding, judged, loadFound, run } from "./fixtures.ts";
import { crowbar } from "./parts.ts";

const rising = (currentRise: number): string => {
  const ratings = { ...crowbar.ratings, currentRise };
  const found = barFound({ firstMicrosecondRise: 1e9 });
  const verdict = judged(run({ crowbar: found }, { crowbar: { ...crowbar, ratings, inductanceAssumed: false } }));
  return finding(verdict, "crowbar", "current rise (first 1 µs)").sentence;
};

test("a current that rises too fast is told with what would slow it down, where anything would", () => {
  expect(rising(175e6)).toMatch(/it may end short or open\. About [\d.]+ µH in its branch would meet it\.$/);
  // A ten-thousandth of what flowed: neither 10 µH nor a nanofarad come down to that.
  expect(rising(1e5)).toMatch(/only 100 A\/ms is allowed, .*: it may end short or open\.$/);
});

test("a load that drops out above its minimum has dropped out and was never below it", () => {
  const [dropped] = judged(run({ loads: [loadFound({ drops: 2 })] })).loads;
  expect(dropped?.starved?.sentence).toMatch(/^The radio dropped out twice[;.]/);
  const belowMinimum = { level: 11.7, total: 0.2, longest: 0.2, area: 0.1 };
  const [both] = judged(run({ loads: [loadFound({ drops: 1, belowMinimum })] })).loads;
  expect(both?.starved?.sentence).toMatch(
    /^The radio was below its minimum of 11\.7 V for 200 ms and dropped out once[;.]/,
  );
});
