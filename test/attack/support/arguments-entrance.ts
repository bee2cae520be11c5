import { readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { commands } from "../../../packages/sim/src/cli/commands.ts";
import { NONE, railfault, station, type workshop } from "../../cli/launch.ts";
import type { Entrance } from "./entrance.ts";
import { type Draws, HOSTILE, injured } from "./mutate.ts";

/** Files that words of a command line may name: each is refused or done with at once, whatever is asked of it. */
export function layFiles({ folder, file }: ReturnType<typeof workshop>): readonly string[] {
  return [
    file("broken.yaml", "title: x\nsources: []\n"),
    file("no.yaml", "- a\n"),
    file("empty", ""),
    file("table.csv", "t,U\n0,5\n1,6\n2,7\n3,5\n4,6\n"),
    file("bytes", Uint8Array.from([0, 255, 27, 91, 10])),
    file("kept.json", '{"format": "railfault-tolerances 1", "status": "answered", "runs": {}}'),
    file("match.json", '{"format": "railfault match 1"}'),
    file("cases.json", '{"cases": [{"id": 1}]}'),
    folder,
    join(folder, "nowhere"),
    join(folder, "nowhere/out.svg"),
    join(folder, "broken.yaml/x"),
    "/dev/null",
  ];
}

const WORDS = [
  "default",
  "tight",
  "1e-6",
  "5 ms",
  "5",
  "ms",
  "3",
  "fault",
  "page",
  "light",
  "dark",
  "15 V",
  "none",
  "comma",
  "--",
  "-",
  "-h",
  "=",
];

/** The words of a command line: a command, options of it and of others, values for them, files; any of them injured. */
export function commandWords(draw: Draws, files: readonly string[]): string[] {
  const command = draw.from(commands);
  const value = (): string => (draw.next() < 0.5 ? draw.from(files) : draw.from(WORDS));
  const others = commands.flatMap(({ options }) => options);
  const option = (): string[] => {
    const own = command.options.length > 0 && draw.next() < 0.8;
    const { name, value: takes, words } = draw.from(own ? command.options : others);
    if (takes === null) return [`--${name}`];
    const said = words === undefined || draw.next() < 0.3 ? value() : draw.from(words);
    return draw.next() < 0.3 ? [`--${name}=${said}`] : [`--${name}`, said];
  };
  const words = [command.name, draw.from(files), ...Array.from({ length: Math.floor(draw.next() * 5) }, option).flat()];
  if (draw.next() < 0.2) words.splice(Math.floor(draw.next() * words.length), 1);
  if (draw.next() < 0.7) {
    const at = Math.floor(draw.next() * words.length);
    words[at] = injured(draw, [words[at] ?? ""], [...HOSTILE, ...WORDS]);
  }
  return words;
}

/** The words of a command line, done in this process. Where it stands is where it may write. */
export function commandLine(shop: ReturnType<typeof workshop>): Entrance {
  const files = [...layFiles(shop)];
  const laid = readdirSync(shop.folder);
  return {
    name: "words of the command",
    enter: async (draw) => {
      const words = commandWords(draw, files);
      const { status, stdout, stderr } = await railfault(...words);
      if (![0, 1, 2, 3, 4].includes(status)) throw new Error(`ends with ${status}`);
      if (status === 2 && stderr === "" && !stdout.includes("CANNOT BE RUN") && !stdout.startsWith("["))
        throw new Error("refused without a word");
      const found = readdirSync(shop.folder);
      const gone = laid.filter((name) => !found.includes(name));
      if (gone.length > 0) throw new Error(`took away ${gone.join()}`);
      for (const name of found.filter((each) => !laid.includes(each))) {
        // Only what its own words ask for, such as a table under the name `none`, or a line's end behind the name of a file.
        if (!words.some((word) => word === name || word.endsWith(`=${name}`) || word.endsWith(`/${name}`)))
          throw new Error(`wrote ${name}`);
        rmSync(join(shop.folder, name), { recursive: true });
      }
      // A table of the shell's ends its lines as tables do.
      return { taken: status !== 2, said: stderr };
    },
  };
}

/** A line that is run at once, for what only a process shows. */
export const quickLine = (): string => station({ protector: NONE, runFor: "2 ms" });
