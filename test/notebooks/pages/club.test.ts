import { describe, expect, test } from "vitest";
import { viewProblem } from "../../../packages/notebooks/src/kept/state.ts";
import {
  type Arranged,
  MOST_LINES,
  readArranged,
  sayable,
  wordProblem,
  writeArranged,
} from "../../../packages/notebooks/src/pages/club/arranged.ts";

const talk: Arranged = {
  lines: [
    { kind: "shipped", name: "04-foldback" },
    { kind: "own", name: 'Hut~, "roof" <b>', text: "title: Hütte ~,.\n# µ\r\n" },
  ],
  slides: [
    { line: 1, id: "step-2" },
    { line: 0, id: "*" },
    { line: 1, id: "time-current" },
  ],
  words: new Map([["2.step-2", { headline: '<img src=x>, "1.*"; ~', sentence: "Ünd µ." }]]),
};

describe("a talk in an address", () => {
  test("comes back as it was, own lines and hostile words too", () => {
    const { arranged, lost } = readArranged(writeArranged(talk));
    expect(lost).toEqual([]);
    expect(arranged).toEqual(talk);
  });

  test("keeps what a slide cannot say with its slide, and the slide says the rest", () => {
    const headline = `in\u202evisible\u2028 ${String.fromCodePoint(0xe0001)}`;
    const sentence = "too long ".repeat(40);
    const words = new Map([["2.step-2", { headline, sentence }]]);
    const view = writeArranged({ ...talk, words });
    // Else the whole talk would have no address.
    expect(viewProblem("words", view.words)).toBeNull();
    expect(readArranged(view).arranged?.words).toEqual(words);
    expect(sayable({ headline, sentence })).toEqual({});
    expect(sayable({ headline: "Ours", sentence })).toEqual({ headline: "Ours" });
    expect(wordProblem("sentence", sentence)).toMatch(/^This has 360 characters; allowed are 300\./);
    expect(wordProblem("headline", headline)).toMatch(/cannot be seen/);
  });

  test("does not carry words of slides that are not in it", () => {
    const view = writeArranged({
      ...talk,
      words: new Map([...talk.words, ["1.fault", { headline: "gone" }], ["1.*", {}]]),
    });
    expect(view.words).not.toContain("gone");
    expect(Object.keys(JSON.parse(view.words))).toEqual(["2.step-2"]);
  });

  test("is none where nothing is arranged", () => {
    expect(readArranged({ lines: "", slides: "1.fault", words: "{}" })).toEqual({ arranged: null, lost: [] });
    expect(readArranged({})).toEqual({ arranged: null, lost: [] });
  });

  test("that is broken keeps what can be read, its slides at their own lines, and tells the rest", () => {
    const { lines } = writeArranged(talk);
    const spoilt = lines.replace(/~(\w)(\w)/, "~$2$1");
    const { arranged, lost } = readArranged({
      lines: `gone,${spoilt},12-relay-contact`,
      slides: "1.fault,2.line,3.step-1,4.headroom,77.x,nonsense,4.headroom",
      words: '{"4.headroom":{"headline":7,"sentence":"kept"},"1.fault":{"headline":"lost"},"2.line":"no"}',
    });
    expect(arranged?.lines).toEqual([
      { kind: "shipped", name: "04-foldback" },
      { kind: "shipped", name: "12-relay-contact" },
    ]);
    expect(arranged?.slides).toEqual([
      { line: 0, id: "line" },
      { line: 1, id: "headroom" },
    ]);
    expect(arranged?.words).toEqual(new Map([["2.headroom", { sentence: "kept" }]]));
    expect(lost).toEqual([
      "2 scenarios of this talk cannot be read.",
      "There is no slide “77.x”.",
      "There is no slide “nonsense”.",
    ]);
  });

  test.each(["{", "[]", "null", "7", '{"__proto__":{"headline":"x"}}', '{"1.fault":null}'])(
    "is not hurt by words %s",
    (words) => {
      const { arranged } = readArranged({ lines: "04-foldback", slides: "1.fault", words });
      expect(arranged?.words.get("1.fault")).toBeUndefined();
    },
  );

  test("has so many lines and no more, and all their usual slides where it names none", () => {
    const lines = Array.from({ length: MOST_LINES + 3 }, () => "04-foldback").join(",");
    const { arranged } = readArranged({ lines, slides: "", words: "" });
    expect(arranged?.lines).toHaveLength(MOST_LINES);
    expect(arranged?.slides.every(({ id }) => id === "*")).toBe(true);
  });
});
