import { expect, test } from "vitest";
import { renderFits } from "../../packages/sim/src/report/fits.ts";

const fit = { points: [], worstDeviation: 0, insideGates: true } as never;

test("a fuse is named as a reader counts, not by its path", () => {
  const at = (path: string) => renderFits([{ path, label: "blade fuse 30 A", fit }], 120);
  expect(at("main fuse")).toContain("- Main fuse, blade fuse 30 A:");
  expect(at("sources[1].lead.fuse")).toContain("- In-line fuse of source 2, blade fuse 30 A:");
  expect(at("loads[0].lead.fuse")).toContain("- In-line fuse of load 1, blade fuse 30 A:");
});
