import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { decodeAddress } from "../../../packages/notebooks/src/kept/address.ts";
import { tableProblem } from "../../../packages/notebooks/src/kept/exchange/table.ts";
import { shippedLine, shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import { root } from "../../ground/files.ts";
import { answer, buttonOf, type Desk, desk, dialogOf, FALLBACK, IDBFactory, press, settled } from "./desk.ts";

const CHOOSE = /choose another line$/;
const rows = (root: ParentNode) =>
  [...root.querySelectorAll<HTMLElement>(".line-open")].filter((each) => each.closest("[hidden]") === null);
const titles = (root: ParentNode) => rows(root).map((each) => each.querySelector(".line-title")?.textContent);
const notice = ({ document }: Desk) => document.querySelector(".notice")?.textContent ?? "";

/** A file as it comes from a disk; `size` may be claimed without its bytes. */
function fileOf({ window }: Desk, name: string, content: string, size?: number): File {
  const file = new window.File([content], name);
  Object.defineProperty(file, "arrayBuffer", { value: async () => new TextEncoder().encode(content).buffer });
  if (size !== undefined) Object.defineProperty(file, "size", { value: size });
  return file;
}

async function drop({ document, window }: Desk, files: readonly File[], types = ["Files"]): Promise<Event> {
  const send = (type: string): Event => {
    const event = new window.Event(type, { bubbles: true, cancelable: true });
    Object.defineProperty(event, "dataTransfer", { value: { files, types } });
    document.querySelector("main")?.dispatchEvent(event);
    return event;
  };
  send("dragenter");
  const event = send("drop");
  await settled();
  return event;
}

describe("the chooser", () => {
  test("offers every shipped line with its question, and the one in hand is marked", async () => {
    const { document } = await desk();
    await press(document, CHOOSE);
    const dialog = dialogOf(document);
    expect(titles(dialog)).toEqual(shippedLines.map(({ title }) => title));
    expect(dialog.textContent).toContain(shippedLine("26-scr-smaller-than-fuse").question);
    const current = [...dialog.querySelectorAll("[aria-current]")];
    expect(current.map((each) => each.querySelector(".line-title")?.textContent)).toEqual([
      shippedLine("04-foldback").title,
    ]);
  });

  test("opens one, gives the focus back, and undo comes back to the line before", async () => {
    const { document, kept, said } = await desk();
    const { title } = shippedLine("05-latch-off");
    buttonOf(document, CHOOSE).focus();
    await press(document, CHOOSE);
    rows(dialogOf(document))
      .find((each) => each.textContent?.startsWith(title))
      ?.click();
    expect([kept.line.now.state.line, said.at(-1)]).toEqual([
      { kind: "shipped", name: "05-latch-off" },
      `Opened “${title}”.`,
    ]);
    expect([document.querySelector("dialog"), document.activeElement === buttonOf(document, CHOOSE)]).toEqual([
      null,
      true,
    ]);
    buttonOf(document, /^Undo: /).click();
    expect(kept.line.now.state.line.name).toBe("04-foldback");
  });

  test("finds by words of title or question; Escape empties the field before it closes", async () => {
    const { document, window } = await desk();
    await press(document, CHOOSE);
    const dialog = dialogOf(document);
    const find = dialog.querySelector<HTMLInputElement>("input[type=search]") as HTMLInputElement;
    const type = (text: string) => {
      find.value = text;
      find.dispatchEvent(new window.Event("input", { bubbles: true }));
    };
    type("  HICCUP feedback ");
    const expected = shippedLines.filter(({ title, question }) =>
      ["hiccup", "feedback"].every((word) => `${title} ${question}`.toLowerCase().includes(word)),
    );
    expect(expected.length).toBeGreaterThan(0);
    expect(titles(dialog)).toEqual(expected.map(({ title }) => title));
    type("no such words");
    expect([titles(dialog), dialog.textContent]).toEqual([[], expect.stringContaining("No line holds that.")]);
    const pressed = new window.KeyboardEvent("keydown", { key: "Escape", bubbles: true, cancelable: true });
    find.dispatchEvent(pressed);
    expect([pressed.defaultPrevented, find.value, rows(dialog).length]).toEqual([true, "", shippedLines.length]);
  });

  test("up and down lead through the lines from the field and back", async () => {
    const { document, window } = await desk();
    await press(document, CHOOSE);
    const dialog = dialogOf(document);
    const find = dialog.querySelector<HTMLInputElement>("input[type=search]");
    find?.focus();
    const step = (key: string) =>
      document.activeElement?.dispatchEvent(
        new window.KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }),
      );
    step("ArrowDown");
    step("ArrowDown");
    expect(document.activeElement).toBe(rows(dialog)[1]);
    step("ArrowUp");
    step("ArrowUp");
    expect(document.activeElement).toBe(find);
  });

  test("one's own lines: opened, renamed, deleted after a question, and brought back", async () => {
    const here = await desk();
    const { document, kept } = here;
    await press(document, "Save");
    await answer(document, "Hut");
    const store = await kept.store;
    await store.save("Roof", "title: roof\n");
    await press(document, CHOOSE);
    expect(titles(dialogOf(document)).slice(0, 2)).toEqual(["Roof", "Hut"]);
    await press(dialogOf(document), "Rename: Hut");
    await answer(document, "Roof");
    expect(dialogOf(document).querySelector(".control-problem")?.textContent).toMatch(/^“Roof” is there already/);
    await answer(document, "Attic");
    expect(titles(dialogOf(document)).slice(0, 2)).toEqual(["Roof", "Attic"]);
    expect(document.querySelector(".work-title")?.textContent).toBe("Attic");
    expect(document.querySelector(".work-standing")?.textContent).toBe("kept in this browser");

    await press(dialogOf(document), "Delete: Attic");
    expect(document.activeElement?.textContent).toBe("Keep it");
    await press(dialogOf(document), "Keep it");
    expect((await store.list()).entries.length).toBe(2);
    await press(dialogOf(document), "Delete: Attic");
    await press(dialogOf(document), "Delete");
    expect((await store.list()).entries.map(({ name }) => name)).toEqual(["Roof"]);
    expect([document.querySelector(".work-standing")?.textContent, document.activeElement?.textContent]).toEqual([
      "not saved",
      "Bring it back",
    ]);
    expect(kept.line.now.text).toBe(shippedLine("04-foldback").text);
    await press(dialogOf(document), "Bring it back");
    expect((await store.read("Attic")).kind).toBe("read");
    expect(document.querySelector(".work-standing")?.textContent).toBe("kept in this browser");

    rows(dialogOf(document))
      .find((each) => each.textContent?.startsWith("Roof"))
      ?.click();
    await settled();
    expect([kept.line.now.text, document.querySelector("dialog")]).toEqual(["title: roof\n", null]);
  });

  test("a line that another tab deleted cannot be opened, and the one in hand stays", async () => {
    const factory = new IDBFactory();
    const here = await desk({ factory });
    const { document, kept } = here;
    const store = await kept.store;
    await store.save("Hut", "title: hut\n");
    await press(document, CHOOSE);
    await store.remove("Hut");
    rows(dialogOf(document))[0]?.click();
    await settled();
    expect(dialogOf(document).textContent).toContain("“Hut” cannot be read.");
    expect([notice(here), kept.line.now.state]).toEqual([expect.stringContaining("Hut was not opened"), FALLBACK]);
  });

  test("names are shown as text, whatever they hold", async () => {
    const { document, kept } = await desk();
    const name = "<img src=x onerror=alert(1)> אבג";
    kept.line.open({ kind: "own", name, text: 'title: "<b>\\u202Eeman</b>"\n' });
    await (await kept.store).save(name, "title: x\n");
    await press(document, CHOOSE);
    expect(titles(dialogOf(document))[0]).toBe(name);
    expect(document.querySelector(".work-title")?.textContent).toBe(name);
    expect(document.querySelectorAll("img, b, script").length).toBe(0);
    const titled = document.querySelector<HTMLElement>(".work-name");
    expect([titled?.querySelector("bdi")?.textContent, titled?.title]).toEqual([name, name]);
  });
});

describe("a file", () => {
  const GOOD = shippedLine("05-latch-off").text.replace(/^title:.*$/m, "title: From disk # mine");

  test("chosen in the dialog becomes the line in hand, byte for byte; undo comes back", async () => {
    const here = await desk();
    const { document, window, kept, said } = here;
    await press(document, CHOOSE);
    const input = dialogOf(document).querySelector<HTMLInputElement>("input[type=file]") as HTMLInputElement;
    Object.defineProperty(input, "files", { value: [fileOf(here, "hut.yaml", GOOD)] });
    input.dispatchEvent(new window.Event("change", { bubbles: true }));
    await settled();
    expect([kept.line.now.state.line, said.at(-1)]).toEqual([
      { kind: "own", name: "hut", text: GOOD },
      "Opened hut.yaml.",
    ]);
    expect([document.querySelector("dialog"), document.querySelector(".work-standing")?.textContent]).toEqual([
      null,
      "not saved",
    ]);
    kept.line.undo();
    expect(kept.line.now.state.line).toEqual(FALLBACK.line);
  });

  test("dropped anywhere is opened; the sign shows while it is held over the page", async () => {
    const here = await desk();
    const hint = here.document.querySelector(".drop-hint");
    const event = new here.window.Event("dragenter", { bubbles: true, cancelable: true });
    Object.defineProperty(event, "dataTransfer", { value: { files: [], types: ["Files"] } });
    here.document.body.dispatchEvent(event);
    expect(hint?.classList.contains("over")).toBe(true);
    await drop(here, [fileOf(here, "hut.yaml", GOOD)]);
    expect([hint?.classList.contains("over"), here.kept.line.now.text]).toEqual([false, GOOD]);
  });

  test("a text that is dragged is none of the bar's business", async () => {
    const here = await desk();
    const event = await drop(here, [], ["text/plain"]);
    expect([event.defaultPrevented, here.kept.line.now.state]).toEqual([false, FALLBACK]);
  });

  test.each([
    [
      "of 50 MB",
      (here: Desk) => [fileOf(here, "film.yaml", "x", 50 * 1024 * 1024)],
      /film\.yaml was not opened.*50 MB.*256 KB/,
    ],
    ["that is no text", (here: Desk) => [fileOf(here, "a.png", "\u0000\u0001\u0002")], /a\.png was not opened/],
    ["that is empty", (here: Desk) => [fileOf(here, "e.yaml", "")], /e\.yaml was not opened.*empty/],
    ["among several", (here: Desk) => [fileOf(here, "a.yaml", GOOD), fileOf(here, "b.yaml", GOOD)], /Several files/],
    [
      "with a name that turns the text round",
      (here: Desk) => [fileOf(here, "a\u202e<b>.yaml", "")],
      /a\\u\{202E\}<b>\.yaml/,
    ],
  ])("%s is explained, and the line in hand stays", async (_, files, said) => {
    const here = await desk();
    here.kept.line.set("trip", [[["crowbar", "trip voltage"], "15.5 V"]]);
    const { state } = here.kept.line.now;
    await drop(here, files(here));
    expect(notice(here)).toMatch(said);
    expect([here.kept.line.now.state === state, here.document.querySelectorAll("b").length]).toEqual([true, 0]);
    await press(here.document, /^Dismiss: /);
    expect(here.document.querySelector(".notice")).toBeNull();
  });

  test("with errors shows each with its place, and leads to the page of the text", async () => {
    const here = await desk();
    const broken = "title: broken\nambient: 20 V\nmain fus: 3\n";
    await drop(here, [fileOf(here, "hut.yaml", broken)]);
    expect(here.kept.line.now.state).toEqual(FALLBACK);
    expect(notice(here)).toMatch(/hut\.yaml was not opened.*There are \d+ problems in it/);
    expect(notice(here)).toContain("hut.yaml:2:");
    expect(notice(here)).toContain("hut.yaml:3:");
    const link = here.document.querySelector<HTMLAnchorElement>(".notice a");
    expect(link?.textContent).toBe("Mend it on “The file behind it”");
    const [page, hash] = link?.getAttribute("href")?.split("#") ?? [];
    const rules = { fallback: FALLBACK, shipped: [], views: [] };
    expect([page, decodeAddress(`#${hash}`, rules).state.line]).toEqual([
      "file.html",
      { kind: "own", name: "hut", text: broken },
    ]);
  });

  test("with errors is opened on the page that shows the text", async () => {
    const here = await desk({}, { anyText: true });
    await drop(here, [fileOf(here, "hut.yaml", "title: [\n")]);
    expect([here.kept.line.now.text, here.document.querySelector(".notice")]).toEqual(["title: [\n", null]);
    expect(here.said.at(-1)).toMatch(/^Opened hut\.yaml: \d+ problems? in it, so it was not run\.$/);
    // Places in it are told under the file's own name.
    await drop(here, [fileOf(here, "package.json", '{"name": "hut"}\n')]);
    expect(here.kept.line.now.parsed.issues[0]?.position?.file).toBe("package.json");
  });

  test.each(["hiccup-supply-synthetic-comma.csv", "hiccup-supply-synthetic-tab.txt"])(
    "a capture (%s) is no scenario: it is told what judges it, and the line stays",
    async (name) => {
      const here = await desk({}, { anyText: true });
      await drop(here, [fileOf(here, name, readFileSync(join(root, "packages/sim/captures", name), "utf8"))]);
      expect(here.kept.line.now.state).toEqual(FALLBACK);
      expect(notice(here)).toContain(`${name} was not opened; the line in hand stays.`);
      expect(notice(here)).toContain(`npm run -s railfault -- capture ${name}`);
    },
  );

  test("no shipped scenario is taken for a table", async () => {
    for (const { text } of shippedLines) expect(tableProblem(text, "x.yaml")).toBeNull();
  });
});
