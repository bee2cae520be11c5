import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { expect, it } from "vitest";
import { Stages } from "../../packages/sim/src/ode/stages.ts";
import { root } from "./source.ts";

/** A field that is first undefined makes the engine twice as slow, and no result shows it. */
it("a class field without a value is not there before its constructor writes it, in these tests", () => {
  class Late {
    value?: number;
  }
  expect(Object.keys(new Late())).toEqual([]);
  expect(Stages.toString()).not.toMatch(/^\s+(?:size|k);$/m);
});

it("the same where the command, the bench and its threads run unbuilt", () => {
  const script = `
    import { register } from "tsx/esm/api";
    register({ tsconfig: ${JSON.stringify(join(root, "packages/sim/tsconfig.run.json"))} });
    const { Stages } = await import(${JSON.stringify(join(root, "packages/sim/src/ode/stages.ts"))});
    process.stdout.write(Stages.toString());`;
  const text = execFileSync(process.execPath, ["--input-type=module", "--eval", script], {
    cwd: root,
    encoding: "utf8",
  });
  expect(text).toContain("constructor(");
  expect(text).not.toMatch(/[;{}]\s*(?:size|k);/);
});
