import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";

const script = join(import.meta.dirname, "../support/memory-of-steps.ts");
/** A young generation that holds all that is made, so that what is counted is not collected meanwhile. */
const flags = ["--expose-gc", "--min-semi-space-size=128", "--max-semi-space-size=128"];

it("a step leaves little behind and keeps nothing", () => {
  const out = execFileSync(process.execPath, [...flags, "--import", import.meta.resolve("tsx"), script], {
    encoding: "utf8",
  });
  const { made, kept } = JSON.parse(out);
  // Numbers that one function hands to another are put on the heap now and then; one array a stage would come to more.
  expect(made).toBeLessThan(2600);
  // Events stay, some bytes a step.
  expect(kept).toBeLessThan(60);
});
