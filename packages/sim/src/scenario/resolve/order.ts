import { formatQuantity } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import type { Sheet } from "../sheet.ts";

/** Times of a list must rise and lie inside the run. */
export function inOrder(sheet: Sheet, path: Path, times: readonly number[], endTime: number): void {
  times.forEach((time, index) => {
    const place = [...path, index, "time"];
    const before = times[index - 1];
    if (index > 0 && time <= before) {
      const message = `This time does not lie after the one before it, ${formatQuantity(before, "time")}.`;
      sheet.error("out-of-order", place, message, {
        allowed: "times that rise from entry to entry",
        hint: "put the entries in order",
      });
    }
    if (time >= endTime) {
      const message = `This lies at or after the end of the run, ${formatQuantity(endTime, "time")}.`;
      sheet.error("after-the-end", place, message, { hint: "lengthen `run for`, or delete the entry" });
    }
  });
}
