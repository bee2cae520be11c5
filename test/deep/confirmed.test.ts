import { expect, test } from "vitest";
import { collect, ownThread, summarise, USUAL_OPTIONS } from "../../packages/sim/src/index.ts";
import { changeTexts } from "../../packages/sim/src/scenario/index.ts";
import { shortList } from "../../packages/sim/src/study/weakest/report.ts";
import { matchParts } from "../../packages/sim/src/study/weakest/run.ts";
import { shipped } from "../study/weakest/lines.ts";

/** How the samples and the corners of a line end. */
async function endings(text: string): Promise<{ samples: string[]; corners: string[]; endangered: number | null }> {
  const answer = await collect(text, "test.yaml", { ...USUAL_OPTIONS, samples: 60 }, ownThread);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  const { outcomes, corners, endangered } = summarise(answer.collected);
  const named = (list: readonly { outcome: string }[]): string[] => list.map(({ outcome }) => outcome);
  return { samples: named(outcomes), corners: named(corners.outcomes), endangered: endangered?.count ?? null };
}

test("what is chosen for the station with typical parts holds with scattered ones", async () => {
  const text = shipped("29-chosen-parts");
  const answer = matchParts(text, "test.yaml", {});
  if (answer.kind === "refused") throw new Error("refused");
  const list = shortList(answer);
  expect(list.map(({ combination }) => combination.id)).toEqual([
    "blade fuse 30 A + SCR 55 A + 4 mm²",
    "blade fuse 30 A + SCR 50 A + 4 mm²",
  ]);
  for (const { combination } of list) {
    const found = await endings(changeTexts(text, combination.changes));
    expect(found, combination.id).toEqual({
      samples: ["load safe, fuse blown"],
      corners: ["load safe, fuse blown"],
      endangered: 0,
    });
  }
}, 120_000);
