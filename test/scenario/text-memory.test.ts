import { expect, test } from "vitest";
import { changeTexts, FitMemory, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { linesOf } from "../../packages/sim/src/scenario/text/lines.ts";
import { TextMemory } from "../../packages/sim/src/scenario/text/text-memory.ts";

const read = (texts: TextMemory, text: string) => texts.read(linesOf(text, "hut.yaml"));

test("a text is read once, the changed text of a check included", () => {
  const texts = new TextMemory();
  const text = "ambient: 20 °C # hut\n";
  const first = read(texts, text).tree;
  expect(read(texts, text).tree).toBe(first);
  const changed = changeTexts(text, [[["ambient"], "35 °C"]], undefined, texts);
  const again = read(texts, changed).tree;
  expect(read(texts, changed).tree).toBe(again);
  expect(again).not.toBe(first);
});

test("one with a complaint is told at its place in the file that is asked about", () => {
  const memory = new FitMemory();
  const files = ["hut.yaml", "mast.yaml"].map((file) =>
    parseScenario("a: 1\na: 2\n", file, memory).issues.find(({ code }) => code === "duplicate-key"),
  );
  expect(files.map((issue) => [issue?.position?.file, issue?.position?.line])).toEqual([
    ["hut.yaml", 2],
    ["mast.yaml", 2],
  ]);
});

test("the oldest make room, by their number and by their length", () => {
  const few = new TextMemory();
  const first = read(few, "ambient: 1 °C\n").tree;
  for (let i = 2; i < 40; i++) read(few, `ambient: ${i} °C\n`);
  expect(read(few, "ambient: 1 °C\n").tree).not.toBe(first);
  const long = new TextMemory();
  const remark = `# ${"x".repeat(250_000)}\n`;
  const before = read(long, `ambient: 1 °C\n${remark}`).tree;
  for (let i = 2; i < 7; i++) read(long, `ambient: ${i} °C\n${remark}`);
  expect(read(long, `ambient: 1 °C\n${remark}`).tree).not.toBe(before);
});
