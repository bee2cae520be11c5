import { spawnSync } from "node:child_process";
import { afterAll, beforeAll, expect, test } from "vitest";
import { allEntrances } from "../attack/support/all-entrances.ts";
import { commandWords, layFiles } from "../attack/support/arguments-entrance.ts";
import { attack, type Entrance } from "../attack/support/entrance.ts";
import { launcher, workshop } from "../cli/launch.ts";

/** A million at each entrance, or as many as five minutes hold: how many is printed. */
const COUNT = 1_000_000;
const LONGEST_S = 300;
/** Beyond those of the daily test. */
const FROM = 1_000_000;

const shop = workshop();
const stood = process.cwd();
beforeAll(() => process.chdir(shop.folder));
afterAll(() => {
  process.chdir(stood);
  shop.close();
});

test.each(allEntrances(shop).map((entrance) => [entrance.name, entrance] as const))("%s", async (_, entrance) => {
  const { inputs, defects } = await attack(entrance, FROM, COUNT, LONGEST_S);
  expect(defects).toEqual([]);
  expect(inputs).toBeGreaterThan(10_000);
});

test("a thousand commands, each a process of its own", async () => {
  const files = layFiles(shop);
  const spawned: Entrance = {
    name: "spawned commands",
    enter: (draw) => {
      // No system hands over a zero in a word.
      const words = commandWords(draw, files).map((word) => word.replaceAll("\0", ""));
      const { status, signal, stderr } = spawnSync(process.execPath, [launcher, ...words], {
        encoding: "utf8",
        timeout: 60_000,
      });
      if (signal !== null || status === null || status > 4) throw new Error(`ends with ${signal ?? status}`);
      if (stderr.includes("mistake of the program")) throw new Error(stderr);
      return { taken: status !== 2, said: stderr };
    },
  };
  const { inputs, defects } = await attack(spawned, FROM, 1000, 2 * LONGEST_S);
  expect(defects).toEqual([]);
  expect(inputs).toBeGreaterThan(200);
}, 1_000_000);
