import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { notices, noticesFile } from "../../packages/sim/scripts/notices.ts";
import { tableRows } from "./markdown.ts";

const text = readFileSync(noticesFile, "utf8");
const rows = tableRows({ prose: text }, "package", "version", "licence");

test("the third-party notices are those of the lockfile; else run: npx tsx packages/sim/scripts/notices.ts", () => {
  expect(text).toBe(notices());
});

test("what runs with ours may be passed on with it", () => {
  expect(rows.length).toBeGreaterThan(50);
  const free =
    /^(?:MIT|MIT-0|ISC|BSD-[23]-Clause|Apache-2\.0|MPL-2\.0|OFL-1\.1|BlueOak-1\.0\.0|Unlicense|Python-2\.0)$/;
  // The fonts' own licence, a free one of its kind, stands in their text.
  const others = rows.filter(([name, , licence = ""]) => !free.test(licence) && name !== "dejavu-fonts-ttf");
  expect(others).toEqual([]);
});
