import { checkScenario, collect, compareSchemes, runScenario, summarise, USUAL_OPTIONS } from "@railfault/sim";
import { expect, test } from "vitest";
import { ownThread } from "../../../packages/sim/src/study/pool/own-thread.ts";
import { compared, shippedText } from "./lines.ts";

const LINE = shippedText("01-shorted-pass-transistor");
const SPREADS = "tolerances:\n  crowbar.trip voltage: 14.8…15.2 V corners\n  main fuse.cold resistance: ±10 %\n";
/** Two that take away what carries a spread, and one that stands where a corner lies. */
const VARIANTS =
  "variants:\n  - nothing\n  - {name: bare, crowbar: none, main fuse: none}\n  - {name: higher, crowbar: {trip voltage: 15.2 V}}\n";

test("a comparison takes no notice of spreads, not even of those on what a variant takes away", () => {
  const both = compared(LINE + VARIANTS + SPREADS);
  expect(both.leftOut).toEqual([]);
  expect(both.rows).toEqual(compared(LINE + VARIANTS).rows);
  expect(checkScenario(LINE + VARIANTS + SPREADS, "hut.yaml").issues).toEqual(checkScenario(LINE, "hut.yaml").issues);
});

test("samples take no notice of variants, not even where one comes to a variant's own line", async () => {
  const drawn = async (text: string) => {
    const answer = await collect(text, "hut.yaml", { ...USUAL_OPTIONS, samples: 12, corners: 2 }, ownThread);
    if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("\n"));
    const { outcomes, corners } = summarise(answer.collected);
    return { outcomes, corners };
  };
  const both = await drawn(LINE + VARIANTS + SPREADS);
  expect(both).toEqual(await drawn(LINE + SPREADS));
  expect(both.corners.count).toBe(4);
});

test("a variant that the line has come to stands in nobody's way but the comparison's", () => {
  const met = (LINE + VARIANTS).replace("trip voltage: 15.0 V", "trip voltage: 15.2 V");
  expect(runScenario(met, "hut.yaml").kind).toBe("answered");
  const found = compareSchemes(met, "hut.yaml");
  expect(found.kind === "refused" && found.issues.map(({ code, path }) => `${path} ${code}`)).toEqual([
    "variants[2] changes-nothing",
  ]);
});
