import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { brokenAt } from "../../../packages/notebooks/src/kept/exchange/bytes.ts";
import { safeFileName, uniqueNames } from "../../../packages/notebooks/src/kept/exchange/file-names.ts";
import {
  exportAll,
  exportLine,
  type Imported,
  importDropped,
  importFile,
  type OpenedFile,
} from "../../../packages/notebooks/src/kept/exchange.ts";
import { problemText } from "../../../packages/notebooks/src/kept/problem.ts";
import { seeded } from "./random-states.ts";
import { zipEntries } from "./zip-entries.ts";

const scenarios = join(import.meta.dirname, "../../../packages/sim/scenarios");
const file = (content: string | Uint8Array<ArrayBuffer>, name = "hut.yaml") => new File([content], name);
const bytes = (...values: number[]) => new Uint8Array(values);

function refusal(imported: Imported): string {
  return imported.kind === "refused" ? `${imported.problem.code}: ${problemText(imported.problem)}` : imported.kind;
}

describe("a file that is opened", () => {
  test("comes through byte for byte, every shipped one, and out again", async () => {
    const names = readdirSync(scenarios).filter((name) => name.endsWith(".yaml"));
    expect(names.length).toBeGreaterThan(9);
    for (const name of names) {
      const content = readFileSync(join(scenarios, name));
      const imported = await importFile(new File([content], name));
      if (imported.kind !== "text") throw new Error(refusal(imported));
      const out: Blob[] = [];
      const exported = exportLine(imported, (blob) => out.push(blob));
      expect(exported).toEqual({ kind: "exported", fileName: name, problems: [] });
      expect(Buffer.from(await out[0].arrayBuffer()).equals(content)).toBe(true);
    }
  });

  test("keeps byte order mark, line ends and comments, and the scenario reads it so", async () => {
    const unix = readFileSync(join(scenarios, "04-foldback.yaml"), "utf8");
    const text = `\ufeff${unix.replaceAll("\n", "\r\n")}`;
    const imported = await importFile(file(text));
    expect(imported).toEqual({ kind: "text", name: "hut", fileName: "hut.yaml", text });
    if (imported.kind !== "text") return;
    expect(parseScenario(imported.text, "hut.yaml").issues).toEqual(parseScenario(unix, "hut.yaml").issues);
    const out: Blob[] = [];
    exportLine(imported, (blob) => out.push(blob));
    expect(Buffer.from(await out[0].arrayBuffer()).equals(Buffer.from(text))).toBe(true);
  });

  test("of 50 MB is refused by its size, without being read", async () => {
    let reads = 0;
    const huge: OpenedFile = {
      name: "huge.bin",
      size: 50 * 1024 * 1024,
      arrayBuffer: async () => {
        reads += 1;
        return new ArrayBuffer(0);
      },
    };
    expect(refusal(await importFile(huge))).toBe(
      "file-too-large: huge.bin: The file is too large to be a scenario. Received: 50 MB. Allowed: up to 256 KB.",
    );
    expect(reads).toBe(0);
  });

  test("may have 256 KB and not a byte more, also when it grew meanwhile", async () => {
    expect((await importFile(file("a".repeat(262144)))).kind).toBe("text");
    expect(refusal(await importFile(file("a".repeat(262145))))).toContain("Received: 257 KB.");
    const grown = { name: "a", size: 3, arrayBuffer: async () => new ArrayBuffer(262145) };
    expect(refusal(await importFile(grown))).toContain("file-too-large");
  });

  test.each<[string, Uint8Array<ArrayBuffer>, RegExp]>([
    ["a zero", bytes(0x61, 0x0a, 0x62, 0x00), /a zero stands at byte 4, line 2\. Received: 0x00 in a file of 4 bytes/],
    ["Latin-1", bytes(0x61, 0x0a, 0xb5, 0x46), /breaks off at byte 3, line 2\. Received: 0xB5/],
    ["half of a surrogate pair", bytes(0xed, 0xa0, 0x80), /at byte 1, line 1\. Received: 0xED/],
    ["an end in the middle", bytes(0x61, 0xc2), /at byte 2, line 1\. Received: 0xC2/],
    ["UTF-16", bytes(0xff, 0xfe, 0x61, 0x00), /text in UTF-16\. .*as UTF-8/],
    ["a packed folder", bytes(0x50, 0x4b, 3, 4, 0), /packed folder/],
    ["a PDF", bytes(0x25, 0x50, 0x44, 0x46, 0x2d), /PDF/],
    ["a picture", bytes(0x89, 0x50, 0x4e, 0x47), /picture \(PNG\)/],
  ])("that holds %s is no scenario", async (_, content, message) => {
    const said = refusal(await importFile(file(content, "<b>.yaml")));
    expect(said).toMatch(/^wrong-kind: <b>\.yaml: /);
    expect(said).toMatch(message);
    expect(said).toContain("Allowed: text in UTF-8.");
  });

  test("that is empty, gone or a folder says so", async () => {
    expect(refusal(await importFile(file("")))).toContain("empty-file: hut.yaml: The file is empty.");
    const gone = { name: "", size: 10, arrayBuffer: () => Promise.reject(new DOMException("gone", "NotFoundError")) };
    expect(refusal(await importFile(gone))).toBe(
      "unreadable-file: file: The browser cannot read this. Received: gone. It may be a folder, or it was moved or locked. Choose a file.",
    );
  });

  test.each([
    ["hut.YML", "hut"],
    [" Hu\u0308tte .yaml", "H\u00fctte"],
    [".yaml", "line"],
    ["\u202e\0.yaml", "line"],
    ["<img src=x>.yaml", "<img src=x>"],
    [`${"x".repeat(500)}.yaml`, "x".repeat(80)],
    ["a.b.txt", "a.b"],
  ])("named %j is kept as %j", async (name, kept) => {
    expect(await importFile(file("a", name))).toMatchObject({ kind: "text", name: kept });
  });
});

describe("what is dropped", () => {
  test("is one file", async () => {
    expect(await importDropped({ files: [file("a")] })).toMatchObject({ kind: "text", text: "a" });
    expect(refusal(await importDropped({ files: [] }))).toContain("no-file: drop: What was dropped holds no file.");
    const four = ["a", "b", "c\u202e", "d"].map((name) => file("a", name));
    expect(refusal(await importDropped({ files: four }))).toBe(
      "several-files: drop: Several files were dropped at once. Received: 4: a, b, c\\u{202E}, …. Allowed: one scenario file.",
    );
  });
});

describe("a file's name", () => {
  test.each([
    ["Hiccup supply that trips again and again", "Hiccup-supply-that-trips-again-and-again"],
    ["Größe: Hütte 4.7 µF", "Groesse-Huette-4-7-uF"],
    ["crème brûlée", "creme-brulee"],
    ["../../etc/passwd", "etc-passwd"],
    ["C:\\x\\y.exe", "C-x-y-exe"],
    ["<script>alert(1)</script>", "script-alert-1-script"],
    ["\0\u202e\ud800", "line"],
    ["", "line"],
    ["漢字", "line"],
    ["---", "line"],
    ["COM1", "line-COM1"],
    ["nul", "line-nul"],
    ["x".repeat(1_000_000), "x".repeat(60)],
    [`${"x".repeat(59)} y`, "x".repeat(59)],
  ])("from %.40j is safe", (title, name) => {
    expect(safeFileName(title)).toBe(name);
  });

  test("from anything is letters, digits and dashes", () => {
    const random = seeded(3);
    for (let round = 0; round < 2000; round += 1) {
      const codes = Array.from({ length: Math.floor(random() * 100) }, () => Math.floor(random() ** 2 * 0xffff));
      expect(safeFileName(String.fromCharCode(...codes))).toMatch(/^[A-Za-z0-9](?:[A-Za-z0-9-]{0,63}[A-Za-z0-9])?$/);
    }
  });

  test("is nobody else's", () => {
    expect(uniqueNames(["a", "A", "a-2", "b", "a"])).toEqual(["a", "A-2", "a-2-2", "b", "a-3"]);
  });
});

describe("all lines at once", () => {
  test("are a ZIP with one file each, byte for byte, under names of their own", async () => {
    const out: [Blob, string][] = [];
    const lines = [
      { name: "Hut", text: "\ufeffa: µ\r\n", changed_ms: Date.UTC(2031, 5, 1) },
      { name: "hut", text: "b".repeat(5000), changed_ms: -1e12 },
      { name: "漢", text: "" },
    ];
    const result = exportAll(lines, (blob, name) => out.push([blob, name]), Date.UTC(2026, 5, 1));
    expect(result).toEqual({ kind: "exported", fileName: "railfault-lines.zip", problems: [] });
    const entries = zipEntries(Buffer.from(await out[0][0].arrayBuffer()));
    expect(entries.map(({ name, content, year }) => [name, content.toString("utf8"), year])).toEqual([
      ["Hut.yaml", lines[0].text, 2031],
      ["hut-2.yaml", lines[1].text, 2000],
      ["line.yaml", "", 2026],
    ]);
    expect(out[0][1]).toBe("railfault-lines.zip");
  });

  test("leave out what has no bytes, and say so; none at all is no file", () => {
    const out: Blob[] = [];
    const broken = { name: "roof", text: "a\n\ud800" };
    const some = exportAll([broken, { name: "hut", text: "a" }], (blob) => out.push(blob), 0);
    expect(some).toMatchObject({ kind: "exported", problems: [{ code: "half-character", where: "roof" }] });
    expect(exportAll([broken], (blob) => out.push(blob), 0)).toMatchObject({ problem: { code: "half-character" } });
    expect(exportAll([], (blob) => out.push(blob), 0)).toMatchObject({ problem: { code: "nothing-to-export" } });
    expect(exportLine(broken, (blob) => out.push(blob))).toMatchObject({ problem: { code: "half-character" } });
    expect(out).toHaveLength(1);
  });

  test("a text too large to keep can still be saved as a file", () => {
    const out: Blob[] = [];
    expect(exportLine({ name: "big", text: "a".repeat(300_000) }, (blob) => out.push(blob)).kind).toBe("exported");
    expect(out[0].size).toBe(300_000);
  });
});

test("the place where UTF-8 breaks off is where the decoder's is", () => {
  const random = seeded(9);
  const starts = [0x61, 0xc2, 0xe0, 0xe1, 0xed, 0xf0, 0xf4, 0xf5, 0x80, 0x8f, 0x90, 0x9f, 0xa0, 0xbf, 0xff, 0xc0];
  let broken = 0;
  for (let round = 0; round < 20_000; round += 1) {
    const sample = Uint8Array.from({ length: 6 }, () => starts[Math.floor(random() * starts.length)]);
    const at = brokenAt(sample);
    const isText = (part: Uint8Array): boolean => Buffer.from(Buffer.from(part).toString("utf8")).equals(part);
    expect(isText(sample.subarray(0, at))).toBe(true);
    if (at < sample.length) {
      broken += 1;
      // No longer start of it is text, nor the beginning of one.
      for (let end = at + 1; end <= sample.length; end += 1) expect(isText(sample.subarray(0, end))).toBe(false);
    }
  }
  expect(broken).toBeGreaterThan(15_000);
});
