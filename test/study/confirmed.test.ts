import { expect, test } from "vitest";
import { collect, ownThread, summarise, USUAL_OPTIONS } from "../../packages/sim/src/index.ts";
import { shipped } from "./weakest/lines.ts";

/** How the samples and the corners of a line end. */
async function endings(text: string): Promise<{ samples: string[]; corners: string[]; endangered: number | null }> {
  const answer = await collect(text, "test.yaml", { ...USUAL_OPTIONS, samples: 60 }, ownThread);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  const { outcomes, corners, endangered } = summarise(answer.collected);
  const named = (list: readonly { outcome: string }[]): string[] => list.map(({ outcome }) => outcome);
  return { samples: named(outcomes), corners: named(corners.outcomes), endangered: endangered?.count ?? null };
}

test("what is only safe by its labels does not", async () => {
  const { corners } = await endings(shipped("27-scattered-parts"));
  expect(corners).toContain("load above its maximum, within what it stands");
}, 60_000);
