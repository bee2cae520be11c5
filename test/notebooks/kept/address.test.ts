import { deflateRawSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { decodeAddress, encodeAddress, LONGEST_ADDRESS } from "../../../packages/notebooks/src/kept/address.ts";
import { problemText } from "../../../packages/notebooks/src/kept/problem.ts";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { fallback, randomState, rules, seeded } from "./random-states.ts";

const foldback = { kind: "shipped", name: "04-foldback" } as const;

const read = (hash: string) => decodeAddress(hash, rules);
const codes = (hash: string) => read(hash).problems.map(({ code }) => code);

function hashOf(state: PageState): string {
  const encoded = encodeAddress(state);
  if (encoded.kind !== "address") throw new Error(encoded.kind);
  return encoded.hash;
}

describe("an address", () => {
  test("can be read by a person", () => {
    const changes = [
      [["main fuse"], "blade fuse 15 A"],
      [["sources", 0, "set voltage"], "13.8 V"],
      [["crowbar"], null],
    ] as const;
    expect(hashOf({ line: foldback, changes, view: { zoom: "trip" } })).toBe(
      "#v=1&line=04-foldback&set.main+fuse=blade+fuse+15+A&set.sources.0.set+voltage=13.8+V&without=crowbar&view.zoom=trip",
    );
  });

  test("gives the state back exactly, for 2 000 random ones", () => {
    const random = seeded(20);
    let [whole, own, longest] = [0, 0, 0];
    for (let round = 0; round < 2000; round += 1) {
      const state = randomState(random);
      const encoded = encodeAddress(state);
      if (encoded.kind === "too-long") continue;
      if (encoded.kind === "unfit") throw new Error(encoded.problems.map(problemText).join("\n"));
      expect(read(encoded.hash)).toStrictEqual({ state, problems: [], present: true });
      // As a browser's address would hand it on.
      expect(new URL(`http://localhost/${encoded.hash}`).hash).toBe(encoded.hash);
      whole += 1;
      if (state.line.kind === "own") own += 1;
      longest = Math.max(longest, encoded.hash.length);
    }
    expect(whole).toBeGreaterThan(1900);
    expect(own).toBeGreaterThan(800);
    expect(longest).toBeGreaterThan(3000);
  });

  test("never ends in a mark that could end a sentence", () => {
    for (const value of ["15 A.", "a,", "b:", "c/", "d~", "e@"]) {
      const hash = hashOf({ line: foldback, changes: [[["title"], value]], view: {} });
      expect(hash).toMatch(/[A-Za-z0-9]$/);
      expect(read(hash).state.changes[0][1]).toBe(value);
    }
  });

  test("keeps the byte order mark and the line ends of an own text", () => {
    const line = { kind: "own", name: "roof", text: "\ufefftitle: roof\r\n# µ\r\n" } as const;
    expect(read(hashOf({ line, changes: [], view: {} })).state.line).toStrictEqual(line);
  });

  test("that would be too long says by how much, and its bound is the decoder's", () => {
    const fitting = (length: number): PageState => ({
      line: foldback,
      changes: [[["title"], "x".repeat(length)]],
      view: {},
    });
    const head = hashOf(fitting(0)).length - 1;
    expect(read(hashOf(fitting(LONGEST_ADDRESS - head))).problems).toEqual([]);
    const over = encodeAddress(fitting(LONGEST_ADDRESS - head + 1));
    expect(over).toMatchObject({ kind: "too-long", length: 8001, allowed: 8000 });
    expect(over.kind === "too-long" && problemText(over.problem)).toContain("8\u202f001 characters");
    expect(codes(`${hashOf(fitting(LONGEST_ADDRESS - head))}x`)).toEqual(["too-long"]);
  });

  test.each<[string, Partial<PageState>, string]>([
    ["half of a character", { line: { kind: "own", name: "a", text: "a\n\ud800" } }, "half-character"],
    ["a text of 256 KB and one byte", { line: { kind: "own", name: "a", text: "x".repeat(262145) } }, "text-too-large"],
    ["a name with blanks at its end", { line: { kind: "own", name: "a ", text: "" } }, "name-untidy"],
    ["a place that is no number", { changes: [[["sources", Number.NaN], "1"]] }, "path-index"],
    ["a place beyond any list", { changes: [[["sources", 10_000], "1"]] }, "path-index"],
    ["a negative zero", { changes: [[["sources", -0], "1"]] }, "path-index"],
    ["thirteen steps", { changes: [[new Array<string>(13).fill("a"), "1"]] }, "path-depth"],
    ["no step", { changes: [[[], "1"]] }, "path-depth"],
    ["a key of the language", { changes: [[["__proto__", "x"], "1"]] }, "path-key"],
    ["a value that turns the reading direction", { changes: [[["title"], "a\u202eb"]] }, "value-invisible"],
    [
      "one value twice",
      {
        changes: [
          [["title"], "a"],
          [["title"], "b"],
        ],
      },
      "twice",
    ],
    ["201 changes", { changes: Array.from({ length: 201 }, (_, at) => [["a", at], "1"] as const) }, "too-many-changes"],
    ["a view of the language", { view: { constructor: "x" } }, "unknown-view"],
  ])("does not take %s", (_, part, code) => {
    const encoded = encodeAddress({ line: foldback, changes: [], view: {}, ...part });
    expect(encoded.kind === "unfit" && encoded.problems.map((one) => one.code)).toEqual([code]);
  });
});

describe("a broken address", () => {
  const head = "#v=1&line=04-foldback";

  test("without any state is no mistake", () => {
    for (const hash of ["", "#", "#what-to-try-next", "#%C3%BC"])
      expect(read(hash)).toEqual({ state: fallback, problems: [], present: false });
  });

  test.each([
    ["wrong-version", "#v=2&line=04-foldback"],
    ["wrong-version", "#line=04-foldback"],
    ["wrong-version", "#v=1&v=1&line=04-foldback"],
    ["wrong-version", "#v=&line=04-foldback"],
    ["too-long", `#v=1&line=${"x".repeat(8000)}`],
    ["too-long", `#${"x".repeat(10_000_000)}`],
    ["no-line", "#v=1"],
    ["no-line", "#v=1&line=04-foldback&own=a"],
    ["no-line", "#v=1&own=a"],
    ["unknown-line", "#v=1&line=nowhere"],
    ["unknown-line", "#v=1&line=__proto__"],
    ["text-not-packed", "#v=1&own=%20a&text="],
    ["text-not-packed", "#v=1&own=a&text=!!"],
    ["text-not-whole", "#v=1&own=a&text=AAAAAAAAAAAA"],
  ])("%s: gives the fallback and says so", (code, hash) => {
    const { state, problems, present } = read(hash);
    expect(problems.map((one) => one.code)).toContain(code);
    expect({ line: state.line, changes: state.changes, present }).toEqual({
      line: fallback.line,
      changes: [],
      present: true,
    });
  });

  test.each([
    ["unreadable", `${head}&set.a=%`],
    ["unreadable", `${head}&set.a=%ED%A0%80`],
    ["unreadable", `${head}&set.a=%C3`],
    ["unreadable", `${head}&word`],
    ["value-invisible", `${head}&set.a=%00`],
    ["value-invisible", `${head}&set.a=\ud800`],
    ["value-invisible", `${head}&set.a=%E2%80%AEb`],
    ["path-key", `${head}&set.=1`],
    ["path-key", `${head}&set.a..b=1`],
    ["path-key", `${head}&set.__proto__.x=1`],
    ["path-key", `${head}&without=constructor`],
    ["path-unreadable", `${head}&set.sources.007=1`],
    ["path-unreadable", `${head}&set.sources.99999=1`],
    ["path-unreadable", `${head}&set.a~=1`],
    ["path-depth", `${head}&set.${"a.".repeat(12)}b=1`],
    ["twice", `${head}&set.a=1&without=a`],
    ["unknown-view", `${head}&view.other=1`],
    ["unknown-view", `${head}&view.__proto__=1`],
    ["view-value", `${head}&view.zoom=${"x".repeat(201)}`],
    ["twice", `${head}&view.zoom=a&view.zoom=a`],
    ["unknown-word", `${head}&zoom=a`],
  ])("%s: keeps what is sound", (code, hash) => {
    expect(codes(hash)).toEqual([code]);
    expect(read(hash).state).toStrictEqual({ line: foldback, changes: [], view: {} });
    expect(read(`${hash}&set.title=x&view.time=log`).state).toStrictEqual({
      line: foldback,
      changes: [[["title"], "x"]],
      view: { time: "log" },
    });
  });

  test("says of a value changed three times once that it is unclear", () => {
    expect(codes(`${head}&set.a=1&set.a=2&set.a=3`)).toEqual(["twice"]);
  });

  test("leaves changes out when their line is not there", () => {
    const { state, problems } = read("#v=1&line=nowhere&set.title=x&view.zoom=trip");
    expect(state).toStrictEqual({ line: fallback.line, changes: [], view: { zoom: "trip" } });
    expect(problems.map(({ code }) => code)).toEqual(["unknown-line", "without-line"]);
  });

  test("with 201 changes applies none of them", () => {
    const changes = Array.from({ length: 201 }, (_, at) => `&set.a.${at}=1`).join("");
    expect(codes(head + changes)).toEqual(["too-many-changes"]);
    expect(read(head + changes).state.changes).toEqual([]);
  });

  test("is told in few plain lines whatever it holds", () => {
    const { problems } = read(head + "&<script>=\u001b[31m\u202e".repeat(300));
    expect(problems).toHaveLength(21);
    expect(problems.at(-1)?.message).toContain("280 further");
    const text = problemText(problems[0]);
    expect(text).toContain("<script>");
    expect(text).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  });

  test("never changes the objects of the language", () => {
    read("#v=1&line=04-foldback&set.__proto__.polluted=1&view.__proto__=1&__proto__=1&constructor=2");
    expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
  });
});

describe("a packed text", () => {
  const packed = (bytes: Buffer, sum = 0) => {
    const check = Buffer.alloc(4);
    check.writeUInt32BE(sum >>> 0);
    return `#v=1&own=a&text=${Buffer.concat([check, deflateRawSync(bytes)]).toString("base64url")}`;
  };

  test("that would fill the memory is stopped at 256 KB", () => {
    const bomb = packed(Buffer.alloc(5_000_000, 0x61));
    expect(bomb.length).toBeLessThan(LONGEST_ADDRESS);
    expect(codes(bomb)).toEqual(["text-too-large"]);
    // Its end is broken, and nobody gets there to notice.
    expect(codes(bomb.slice(0, -404) + "_".repeat(400) + bomb.slice(-4))).toEqual(["text-too-large"]);
    expect(codes(bomb.slice(0, 200) + "_".repeat(200))).toEqual(["text-not-whole"]);
  });

  test("is bound by the same size on both sides", () => {
    const text = "a".repeat(256 * 1024);
    const hash = hashOf({ line: { kind: "own", name: "a", text }, changes: [], view: {} });
    expect(read(hash).state.line).toStrictEqual({ kind: "own", name: "a", text });
  });

  test("that is no UTF-8 is no text", () => {
    // FNV-1a of the one byte FF.
    const sum = Math.imul(0x811c9dc5 ^ 0xff, 0x01000193);
    expect(codes(packed(Buffer.from([0xff]), sum))).toEqual(["text-not-text"]);
  });

  test("has one spelling: the last letter carries no idle bits", () => {
    const hash = hashOf({ line: { kind: "own", name: "a", text: "abcd" }, changes: [], view: {} });
    const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    const spellings = [...letters].filter((letter) => codes(hash.slice(0, -1) + letter).length === 0);
    expect(spellings).toEqual([hash.slice(-1)]);
    expect((hash.length - hash.indexOf("text=") - 5) % 4).not.toBe(0);
  });

  test("never comes out as another one when a letter is lost or changed", () => {
    const line = { kind: "own", name: "a", text: "main fuse: blade fuse 15 A\ncrowbar: {part: SCR 55 A}\n" } as const;
    const hash = hashOf({ line, changes: [], view: {} });
    const from = hash.indexOf("text=") + 5;
    for (let at = from; at < hash.length; at += 1) {
      for (const letter of ["", "A", "_"]) {
        if (hash[at] === letter) continue;
        const spoilt = read(hash.slice(0, at) + letter + hash.slice(at + 1));
        expect(spoilt.problems).toHaveLength(1);
        expect(spoilt.state.line).toEqual(fallback.line);
      }
    }
  });
});
