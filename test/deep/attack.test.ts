import { execFile } from "node:child_process";
import { afterAll, beforeAll, expect, test } from "vitest";
import { commandLine, commandWords, layFiles } from "../attack/support/arguments-entrance.ts";
import { attack, type Entrance } from "../attack/support/entrance.ts";
import { FROM, LONGER, manyInputs } from "../attack/support/many-inputs.ts";
import { launcher, workshop } from "../cli/launch.ts";

/** Each is a process of its own, half a second of work. */
const SPAWNED = 1000;
const LONGEST_S = 1000;

const shop = workshop();
const stood = process.cwd();
beforeAll(() => process.chdir(shop.folder));
afterAll(() => {
  process.chdir(stood);
  shop.close();
});

manyInputs(commandLine(shop), LONGER);

interface Ended {
  readonly status: number | null;
  readonly signal: string | null;
  readonly stderr: string;
}

const spawned = (words: readonly string[]): Promise<Ended> =>
  new Promise((resolve) => {
    const child = execFile(process.execPath, [launcher, ...words], { timeout: 60_000 }, (_error, _stdout, stderr) => {
      resolve({ status: child.exitCode, signal: child.signalCode, stderr });
    });
    // Nobody types anything.
    child.stdin?.end();
  });

test(
  "a thousand commands, each a process of its own, two at a time",
  async () => {
    const files = layFiles(shop);
    const entrance: Entrance = {
      name: "spawned commands",
      enter: async (draw) => {
        // No system hands over a zero in a word.
        const words = commandWords(draw, files).map((word) => word.replaceAll("\0", ""));
        const { status, signal, stderr } = await spawned(words);
        if (signal !== null || status === null || status > 4) throw new Error(`ends with ${signal ?? status}`);
        if (stderr.includes("mistake of the program")) throw new Error(stderr);
        return { taken: status !== 2, said: stderr };
      },
    };
    const halves = await Promise.all(
      [FROM, FROM + SPAWNED / 2].map((from) => attack(entrance, from, SPAWNED / 2, LONGEST_S)),
    );
    expect(halves.flatMap(({ defects }) => defects)).toEqual([]);
    expect(halves.map(({ inputs }) => inputs)).toEqual([SPAWNED / 2, SPAWNED / 2]);
  },
  2000 * LONGEST_S,
);
