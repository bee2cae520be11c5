import { existsSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { railfault, workshop } from "../cli/launch.ts";
import { root } from "../ground/files.ts";
import { readDocument } from "./markdown.ts";
import { piecesMissing } from "./similar.ts";

const page = readDocument("packages/sim/docs/from-bench-to-club.md");
const { folder, close } = workshop();
afterAll(close);

/** Each command with the text that stands below it, if any. */
const steps = page.blocks.flatMap(({ language, text }, i) => {
  if (language !== "sh") return [];
  const next = page.blocks[i + 1];
  const shown = next?.language === "text" ? next.text : null;
  return text
    .trim()
    .split("\n")
    .map((line) => ({ line, shown }));
});

/** A shell line's words after the program: shipped files lie in the checkout, all others where they are written. */
function words(line: string): string[] {
  const [, call = ""] = /^npm run -s railfault -- (.+)$/.exec(line) ?? [];
  const all = Array.from(call.matchAll(/"([^"]*)"|(\S+)/g), ([, quoted, bare]) => quoted ?? bare ?? "");
  return all.map((word) =>
    word.startsWith("packages/")
      ? join(root, word)
      : /^[a-z]+\.(?:yaml|html|zip)$/.test(word)
        ? join(folder, word)
        : word,
  );
}

describe("the whole way from a capture to the talk", () => {
  test("leads through capture, fit, verdict, card, reset sheet, talk and handout", () => {
    expect(steps.map(({ line }) => words(line)[0])).toEqual([
      "capture",
      "fit",
      "run",
      "card",
      "reset",
      "talk",
      "handout",
    ]);
  });

  test.each(steps.map(({ line, shown }) => [line, shown] as const))(
    "%s",
    async (line, shown) => {
      const { status, stdout } = await railfault(...words(line));
      // The capture alone leaves open whether the limit is kept.
      expect(status).toBe(words(line)[0] === "capture" ? 1 : 0);
      if (shown !== null) expect(piecesMissing(shown, stdout)).toEqual([]);
      const written = words(line).filter((_, i, all) => ["--out", "--html", "--zip"].includes(all[i - 1] ?? ""));
      for (const file of written) expect(existsSync(file), file).toBe(true);
    },
    60_000,
  );
});
