import { expect, test } from "vitest";
import { listValues } from "../../packages/sim/src/report/parts-list.ts";
import { findPart, parts } from "../../packages/sim/src/scenario/parts/index.ts";

test.each(parts.map((part) => [`${part.kind} ${part.name}`, part] as const))(
  "%s: every value has words, a unit, a mark and a source",
  (_, part) => {
    const listed = listValues(part);
    expect(listed).toHaveLength(Object.keys(part.values).length);
    for (const { label, value, mark, source } of listed) {
      expect(label).toMatch(/^[a-z]/);
      expect(value).not.toMatch(/[{}]|NaN|undefined/);
      expect(value).not.toBe("");
      expect(mark).not.toBe("");
      expect(source).not.toBe("");
    }
  },
);

test("units are those of a scenario file", () => {
  const part = findPart("crowbar", "SCR 25 A");
  const values = new Map(listValues(part!).map(({ label, value }) => [label, value]));
  expect(values.get("threshold voltage")).toBe("770 mV");
  expect(values.get("slope resistance")).toBe("14 mΩ");
  expect(values.get("ratings, surge current")).toBe("300 A");
  expect(values.get("ratings, junction temperature")).toBe("125 °C");
});
