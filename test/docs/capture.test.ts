import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { railfault } from "../cli/launch.ts";
import { root } from "../ground/files.ts";
import { readDocument } from "./markdown.ts";
import { piecesMissing } from "./similar.ts";

const page = readDocument("packages/sim/docs/capture.md");
const lines = page.blocks.filter(({ language }) => language === "sh").flatMap(({ text }) => text.trim().split("\n"));

/** A shell line's words after the program; files are meant from the root. */
function words(line: string): string[] {
  const [, call = ""] = /^npm run -s railfault -- (.+)$/.exec(line) ?? [];
  const all = Array.from(call.matchAll(/"([^"]*)"|(\S+)/g), ([, quoted, bare]) => quoted ?? bare ?? "");
  return all.map((word) => (word.startsWith("packages/") ? join(root, word) : word));
}

describe("the page on captures", () => {
  test.each(lines)("%s", async (line) => {
    const { status, stdout, stderr } = await railfault(...words(line));
    expect(stderr).toBe("");
    expect(status).toBe(0);
    expect(stdout).toContain("radio");
  });

  test("shows what the program prints", async () => {
    const line = lines.find((each) => each.includes("shorted-pass-transistor")) ?? "";
    const { stdout } = await railfault(...words(line));
    const [shown] = page.blocks.filter(({ language }) => language === "text");
    expect(shown?.text).toContain("…");
    expect(piecesMissing(shown?.text ?? "", stdout)).toEqual([]);
  });
});
