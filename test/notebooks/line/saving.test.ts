import { describe, expect, test } from "vitest";
import { shippedLine } from "../../../packages/notebooks/src/line/shipped.ts";
import { zipEntries } from "../kept/zip-entries.ts";
import { answer, buttonOf, desk, dialogOf, IDBFactory, press, settled } from "./desk.ts";

const TRIP = ["crowbar", "trip voltage"];
const FOLDBACK = shippedLine("04-foldback").title;

/** Texts of all kept lines by their names. */
async function keptTexts({ kept }: Pick<Awaited<ReturnType<typeof desk>>, "kept">) {
  const store = await kept.store;
  const { entries } = await store.list();
  const read = await Promise.all(entries.map(({ name }) => store.read(name)));
  return Object.fromEntries(read.map((one) => (one.kind === "read" ? [one.entry.name, one.text] : ["?", ""])));
}

const standing = (document: Document) => document.querySelector(".work-standing")?.textContent;
const called = (document: Document) => document.querySelector(".work-title")?.textContent;

describe("saving", () => {
  test("asks a name for a shipped line, proposes its title, and asks nothing the second time", async () => {
    const here = await desk();
    const { document, kept, said } = here;
    expect([called(document), standing(document)]).toEqual([FOLDBACK, "comes with these pages"]);
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    expect(standing(document)).toBe("not saved");
    await press(document, "Save");
    expect(dialogOf(document).querySelector("input")?.value).toBe(FOLDBACK);
    await answer(document, "  Hut ");
    expect(document.querySelector("dialog")).toBeNull();
    expect([called(document), standing(document), said.at(-1)]).toEqual([
      "Hut",
      "kept in this browser",
      "Saved as “Hut”.",
    ]);
    expect(await keptTexts(here)).toEqual({ Hut: kept.line.now.text });
    kept.line.set("trip", [[TRIP, "16 V"]]);
    expect(standing(document)).toBe("not saved since");
    await press(document, "Save");
    expect(document.querySelector("dialog")).toBeNull();
    expect(Object.values(await keptTexts(here))).toEqual([expect.stringContaining("trip voltage: 16 V")]);
  });

  test("after undo past it, saving still asks nothing and keeps no second version aside", async () => {
    const here = await desk();
    const { document, kept } = here;
    await press(document, "Save");
    await answer(document, "Hut");
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await press(document, "Save");
    kept.line.undo();
    expect(standing(document)).toBe("not saved since");
    await press(document, "Save");
    expect(await keptTexts(here)).toEqual({ Hut: shippedLine("04-foldback").text });
  });

  test("a taken name is asked about: another one, or replace", async () => {
    const here = await desk();
    const { document, kept } = here;
    await (await kept.store).save("Hut", "title: other\n");
    await press(document, "Save");
    await answer(document, "Hut");
    const dialog = dialogOf(document);
    const replace = buttonOf(dialog, "Replace it");
    expect([dialog.querySelector(".control-problem")?.textContent, replace.hidden]).toEqual([
      expect.stringMatching(/^“Hut” is there already \(.+, 13 bytes\)\. Choose another name\.$/),
      false,
    ]);
    expect(await keptTexts(here)).toEqual({ Hut: "title: other\n" });
    await answer(document, "Roof");
    expect(Object.keys(await keptTexts(here)).sort()).toEqual(["Hut", "Roof"]);
    kept.line.open({ kind: "shipped", name: "05-latch-off" });
    await press(document, "Save");
    await answer(document, "Hut");
    await press(dialogOf(document), "Replace it");
    expect((await keptTexts(here)).Hut).toBe(shippedLine("05-latch-off").text);
  });

  test("a name that cannot be says why and keeps what was typed", async () => {
    const { document } = await desk();
    await press(document, "Save");
    await answer(document, "a\u202eb");
    const input = dialogOf(document).querySelector("input");
    expect([input?.value, input?.getAttribute("aria-invalid")]).toEqual(["a\u202eb", "true"]);
    expect(dialogOf(document).querySelector(".control-problem")?.textContent).toContain("\\u{202E}");
    expect(document.querySelector(".notices")?.hasAttribute("hidden")).toBe(true);
    await press(dialogOf(document), "Cancel");
    expect([document.querySelector("dialog"), document.activeElement?.textContent]).toEqual([null, "Save"]);
  });

  test("what another tab saved meanwhile is kept aside, and that is told", async () => {
    const factory = new IDBFactory();
    const here = await desk({ factory });
    await press(here.document, "Save");
    await answer(here.document, "Hut");
    const store = await (await desk({ factory })).kept.store;
    const read = await store.read("Hut");
    await store.save("Hut", "title: theirs\n", read.kind === "read" ? { basedOn: read.entry } : {});
    here.kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await press(here.document, "Save");
    expect(await keptTexts(here)).toEqual({ Hut: here.kept.line.now.text, "Hut (2)": "title: theirs\n" });
    expect(here.document.querySelector(".notice")?.textContent).toContain("“Hut (2)”");
  });

  test("a file of the same name is another line: it is not saved over the kept one unasked", async () => {
    const here = await desk();
    const { document, kept } = here;
    await press(document, "Save");
    await answer(document, "Hut");
    kept.line.open({ kind: "own", name: "Hut", text: "title: from a file\n" });
    expect(standing(document)).toBe("not saved");
    await press(document, "Save");
    expect(dialogOf(document).querySelector("input")?.value).toBe("Hut");
    kept.line.undo();
    expect(standing(document)).toBe("kept in this browser");
  });

  test("is known again after a reload, also after writing in the text", async () => {
    const factory = new IDBFactory();
    const first = await desk({ factory });
    await press(first.document, "Save");
    await answer(first.document, "Hut");
    first.kept.leave();
    await settled();
    const again = await desk({ factory });
    expect([called(again.document), standing(again.document)]).toEqual(["Hut", "kept in this browser"]);
    again.kept.line.edit(`${again.kept.line.now.text}# mine\n`);
    expect(standing(again.document)).toBe("not saved since");
    await press(again.document, "Save");
    expect(again.document.querySelector("dialog")).toBeNull();
    expect((await keptTexts(again)).Hut).toMatch(/# mine\n$/);
  });

  test("a storage that refuses is told in the dialog and on the page; the line stays in hand", async () => {
    const here = await desk();
    const { document, kept } = here;
    const text = `# ${"x".repeat(256 * 1024)}\n`;
    kept.line.edit(text);
    await press(document, "Save");
    await answer(document, "Big");
    expect(dialogOf(document).querySelector(".control-problem")?.textContent).toContain("too large");
    expect(document.querySelector(".notice")?.textContent).toMatch(/was not saved.*up to 256 KB/);
    expect(kept.line.now.text).toBe(text);
  });

  test("where the browser keeps nothing, it says so and goes on", async () => {
    const { document, said } = await desk({ url: "https://hut.example/blocked.html", factory: null as never });
    expect(document.querySelector(".notice")?.textContent).toMatch(/storage|keep/i);
    await press(document, "Save");
    await answer(document, "Hut");
    expect(said.at(-1)).toBe("Saved as “Hut”, only until this page is closed.");
    expect(standing(document)).toBe("kept until this page is closed");
  });
});

describe("handing out", () => {
  test("the present text as a file, byte for byte, comments and all, below a line that says what it was changed from", async () => {
    const { document, kept, saved } = await desk();
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await press(document, "Save as file");
    expect(saved.map(({ name }) => name)).toEqual([expect.stringMatching(/^[\w-]+\.yaml$/)]);
    const [first, ...rest] = (await textOf(saved[0]?.blob)).split("\n");
    expect(first).toMatch(/^# Changed from the line 04-foldback: /);
    expect(rest.join("\n")).toBe(kept.line.now.text);
    expect(kept.line.now.text).toContain("#");
  });

  test("all kept lines as one ZIP", async () => {
    const { document, kept, saved, said } = await desk();
    const store = await kept.store;
    await store.save("Hut", "title: a # one\n");
    await store.save("Roof / <b>", "title: b\n");
    await press(document, /choose another line/);
    await press(dialogOf(document), "Export all your lines");
    expect(saved[0]?.name).toBe("railfault-lines.zip");
    const files = zipEntries(Buffer.from(await bytesOf(saved[0]?.blob)));
    expect(files.map(({ content }) => content.toString()).sort()).toEqual(["title: a # one\n", "title: b\n"]);
    expect(dialogOf(document).querySelector(".own-said")?.textContent).toBe("Saved 2 as railfault-lines.zip.");
    expect(said).toEqual([]);
  });
});

async function bytesOf(blob: Blob | undefined): Promise<ArrayBuffer> {
  if (blob === undefined) throw new Error("nothing was saved");
  return await blob.arrayBuffer();
}

async function textOf(blob: Blob | undefined): Promise<string> {
  return new TextDecoder().decode(await bytesOf(blob));
}
