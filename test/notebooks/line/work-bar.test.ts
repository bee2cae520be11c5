import { parseScenario } from "@railfault/sim";
import axe from "axe-core";
import { describe, expect, test, vi } from "vitest";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { fileText } from "../../../packages/notebooks/src/line/work-bar/words.ts";
import { brokenIds, unnamed } from "../controls/page.ts";
import { plain } from "../show/fixtures.ts";
import { buttonOf, type Desk, desk, dialogOf, IDBFactory, press, settled } from "./desk.ts";

const TRIP = ["crowbar", "trip voltage"];
const FUSE = ["main fuse"];
const key = (
  { window, document }: Desk,
  letter: string,
  more: KeyboardEventInit = {},
  target: Element = document.body,
) => {
  const event = new window.KeyboardEvent("keydown", {
    key: letter,
    code: `Key${letter.toUpperCase()}`,
    bubbles: true,
    cancelable: true,
    ...more,
  });
  target.dispatchEvent(event);
};
const notices = ({ document }: Desk) => [...document.querySelectorAll(".notice-title")].map((each) => each.textContent);
const changes = ({ kept }: Desk) => kept.line.now.state.changes.map(([path]) => path.join("."));

describe("undo and redo", () => {
  test("say what they would do, in name and tooltip, and do it", async () => {
    const here = await desk();
    const { document, kept, said } = here;
    expect([buttonOf(document, "Undo").title, buttonOf(document, "Undo").getAttribute("aria-disabled")]).toEqual([
      "Nothing to undo",
      "true",
    ]);
    kept.line.set("Trip voltage: 15.5 V", [[TRIP, "15.5 V"]]);
    const undo = buttonOf(document, "Undo: Trip voltage: 15.5 V");
    expect(undo.title).toBe("Undo: Trip voltage: 15.5 V (Ctrl+Z)");
    undo.focus();
    undo.click();
    expect([changes(here), said.at(-1)]).toEqual([[], "Undone: Trip voltage: 15.5 V."]);
    expect(document.activeElement).toBe(undo);
    undo.click();
    expect(said.at(-1)).toBe("There is nothing to undo.");
    buttonOf(document, "Redo: Trip voltage: 15.5 V").click();
    expect(changes(here)).toEqual(["crowbar.trip voltage"]);
  });

  test("answer to the keys, but not in a text field nor behind a dialog, and no more once left", async () => {
    const here = await desk();
    const { document, kept, bar } = here;
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    key(here, "z", { ctrlKey: true });
    expect(changes(here)).toEqual([]);
    key(here, "z", { metaKey: true, shiftKey: true });
    expect(changes(here)).toEqual(["crowbar.trip voltage"]);
    const field = document.body.appendChild(document.createElement("input"));
    key(here, "z", { ctrlKey: true }, field);
    await press(document, "Save");
    key(here, "z", { ctrlKey: true });
    expect(changes(here)).toEqual(["crowbar.trip voltage"]);
    await press(dialogOf(document), "Cancel");
    bar.leave();
    key(here, "z", { ctrlKey: true });
    expect(changes(here)).toEqual(["crowbar.trip voltage"]);
    expect(document.querySelector(".drop-hint")).toBeNull();
  });
});

describe("changes", () => {
  test("are counted, listed with what stood there before, and taken back one by one", async () => {
    const here = await desk();
    const { document, kept } = here;
    const summary = () => document.querySelector(".changes > summary")?.textContent;
    expect(document.querySelector<HTMLElement>(".changes")?.hidden).toBe(true);
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    expect(summary()).toBe("1 change");
    kept.line.set("fuse", [[FUSE, "blade fuse 15 A"]]);
    kept.line.set("slew", [[["sources", 0, "name"], '"<b>bold</b>"']]);
    expect(summary()).toBe("3 changes");
    const items = [...document.querySelectorAll(".change-list > li")].map((each) => plain(each.textContent));
    expect(items[0]).toMatch(/^crowbar › trip voltage15\.5 Vbefore: \d/);
    expect(items[1]).toContain("main fuseblade fuse 15 A");
    expect(items[2]).toContain("sources › 1 › name");
    expect(document.querySelectorAll(".change-list b").length).toBe(0);
    await press(document, "Take back: main fuse");
    expect([changes(here), document.activeElement?.getAttribute("aria-label")]).toEqual([
      ["crowbar.trip voltage", "sources.0.name"],
      "Take back: sources › 1 › name",
    ]);
    buttonOf(document, /^Undo: take back main fuse/).click();
    expect(changes(here).length).toBe(3);
  });

  test("one that others stand on says so and stays", async () => {
    const here = await desk();
    here.kept.line.open({ kind: "own", name: "Hut", text: "crowbar: none\n" });
    here.kept.line.set("crowbar", [[["crowbar"], "{part: SCR 55 A}"]]);
    here.kept.line.set("trip", [[TRIP, "15 V"]]);
    await press(here.document, "Take back: crowbar");
    expect([changes(here), notices(here)]).toEqual([
      ["crowbar", "crowbar.trip voltage"],
      ["1 change could not be made on this line; the rest stands."],
    ]);
  });

  test("start over takes all back; on a kept line also what was written in its text", async () => {
    const here = await desk();
    const { document, kept, said } = here;
    await press(document, "Start over");
    expect(said.at(-1)).toBe("Nothing was changed.");
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await press(document, "Start over");
    expect(changes(here)).toEqual([]);
    buttonOf(document, /^Undo: start over/).click();
    expect(changes(here).length).toBe(1);
    await press(document, "Save");
    dialogOf(document).querySelector("form")?.requestSubmit();
    await settled();
    const { text } = kept.line.now;
    kept.line.edit("title: other\n");
    await press(document, "Start over");
    expect([kept.line.now.text, document.querySelector(".work-standing")?.textContent]).toEqual([
      text,
      "kept in this browser",
    ]);
  });
});

describe("a link", () => {
  test("goes to the clipboard", async () => {
    const here = await desk();
    const writeText = vi.fn(async () => {});
    Object.defineProperty(here.window.navigator, "clipboard", { value: { writeText } });
    here.kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await press(here.document, "Copy link");
    expect(writeText).toHaveBeenCalledWith(
      expect.stringMatching(/^https:\/\/hut\.example\/page\.html#v=1&line=04-foldback&set/),
    );
    expect(here.said.at(-1)).toMatch(/^Link copied/);
  });

  test("is shown, selected, where the browser forbids the clipboard", async () => {
    const here = await desk();
    here.kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await press(here.document, "Copy link");
    const input = dialogOf(here.document).querySelector("input") as HTMLInputElement;
    const shared = here.kept.share();
    expect(input.value).toBe(shared.kind === "address" ? shared.address : "");
    expect([input.readOnly, input.selectionStart, input.selectionEnd]).toEqual([true, 0, input.value.length]);
    await press(dialogOf(here.document), "Done");
    expect(here.document.activeElement?.textContent).toBe("Copy link");
  });

  test("too long for an address is said, with what helps", async () => {
    const here = await desk();
    const noise = Array.from({ length: 6000 }, (_, at) => ((at * 7919) % 104729).toString(36)).join(" ");
    here.kept.line.edit(`# ${noise}\n`);
    await press(here.document, "Copy link");
    // A moment later the address itself says the same of what stands in it.
    const said = "There is no link to this line as it stands.";
    const alone = () => notices(here).filter((title) => title !== "The address cannot hold the line as it stands.");
    expect(alone()).toEqual([said]);
    expect(here.document.querySelector(".notice")?.textContent).toMatch(/too long.*Save the line as a file/);
    await press(here.document.querySelector(".notice") as HTMLElement, "Save as file");
    expect([here.saved.length, alone()]).toEqual([1, []]);
  });
});

describe("notices", () => {
  test("a broken address is told as text, can be dismissed, and the page goes on", async () => {
    const here = await desk({ hash: "#v=1&line=%3Cimg%20src%3Dx%3E" });
    expect(here.document.querySelector(".notice")?.textContent).toContain("<img src=x>");
    expect(here.document.querySelector("img")).toBeNull();
    await press(here.document, /^Dismiss/);
    here.kept.line.set("trip", [[TRIP, "15.5 V"]]);
    expect([notices(here), changes(here)]).toEqual([[], ["crowbar.trip voltage"]]);
  });

  test("what was in hand last time is offered when a link stands in its place", async () => {
    const factory = new IDBFactory();
    const first = await desk({ factory });
    first.kept.line.set("trip", [[TRIP, "15.5 V"]]);
    first.kept.leave();
    await settled();
    const here = await desk({ factory, hash: "#v=1&line=05-latch-off" });
    expect(notices(here)).toEqual([expect.stringMatching(/^Last time you had “.+” in hand here, with 1 change\.$/)]);
    await press(here.document, "Bring it back");
    expect([here.kept.line.now.state.line.name, changes(here), notices(here)]).toEqual([
      "04-foldback",
      ["crowbar.trip voltage"],
      [],
    ]);
    here.kept.line.undo();
    expect(here.kept.line.now.state.line.name).toBe("05-latch-off");
  });

  test("the same problem told twice stands once; solved, it goes", async () => {
    const here = await desk();
    const problem = {
      code: "storage-full",
      where: "storage",
      message: "Full.",
      received: null,
      allowed: null,
      hint: "Delete some.",
    };
    here.bar.problems([problem, { ...problem }]);
    expect(here.document.querySelectorAll(".notice li").length).toBe(1);
    here.bar.problems([]);
    expect([notices(here), here.document.querySelector<HTMLElement>(".notices")?.hidden]).toEqual([[], true]);
  });
});

test("everything has a name, no id stands twice, and axe finds nothing", async () => {
  const here = await desk({ hash: "#v=1&line=nowhere" });
  const { document, window, kept } = here;
  kept.line.set("trip", [[TRIP, "15.5 V"]]);
  await (await kept.store).save("Hut", "title: x\n");
  const check = async (where: string) => {
    expect([unnamed(document), brokenIds(document)], where).toEqual([[], []]);
    const { violations } = await axe.run(document.documentElement, {
      rules: { "color-contrast": { enabled: false }, "page-has-heading-one": { enabled: false } },
    });
    expect(
      violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]),
      where,
    ).toEqual([]);
  };
  vi.stubGlobal("window", window);
  vi.stubGlobal("document", document);
  for (const name of ["Node", "NodeList", "Element", "HTMLElement", "Document"] as const)
    vi.stubGlobal(name, window[name]);
  (document.querySelector(".changes") as HTMLDetailsElement).open = true;
  await check("bar");
  await press(document, /choose another line$/);
  await check("chooser");
  await press(dialogOf(document), "Rename: Hut");
  await check("rename");
  vi.unstubAllGlobals();
});

describe("a file that is handed out", () => {
  const line = new Line({ line: { kind: "shipped", name: "01-shorted-pass-transistor" }, changes: [], view: {} });

  test("is that of the pages as long as nothing was changed, and says so once something was", () => {
    const { text } = line.now;
    expect(fileText(text)).toBe(text);
    expect(fileText(`${text}# measured in May\n`)).toBe(`${text}# measured in May\n`);
    line.set("main fuse", [[["main fuse"], "blade fuse 30 A"]]);
    const [first, ...rest] = fileText(line.now.text).split("\n");
    expect(first).toBe(
      "# Changed from the line 01-shorted-pass-transistor: what the comments below answer is the answer of that one.",
    );
    expect(rest.join("\n")).toBe(line.now.text);
    expect(parseScenario(fileText(line.now.text), "line.yaml").scenario).toEqual(line.now.parsed.scenario);
    const opened = new Line({
      line: { kind: "own", name: "hut", text: fileText(line.now.text) },
      changes: [],
      view: {},
    });
    opened.set("main fuse", [[["main fuse"], "blade fuse 20 A"]]);
    expect(fileText(opened.now.text).match(/# Changed from/g)).toHaveLength(1);
  });

  test("says so too when the changed line was kept under a name, or changed in its text", () => {
    const changed = new Line({ line: { kind: "shipped", name: "02-hiccup-supply" }, changes: [], view: {} });
    changed.set("main fuse", [[["main fuse"], "blade fuse 15 A"]]);
    changed.keptAs("hut");
    expect(fileText(changed.now.text)).toMatch(/^# Changed from the line 02-hiccup-supply:.*\n# Ravenstep hut/);
    const { text } = new Line({ line: { kind: "shipped", name: "04-foldback" }, changes: [], view: {} }).now;
    expect(fileText(text.replace(/run for: .*/, "run for: 1 s # longer"))).toMatch(/^# Changed from the line 04-/);
    // Who wrote other comments answers for them.
    const own = `# Mine.\n${text.replace(/run for: .*/, "run for: 1 s")}`;
    expect(fileText(own)).toBe(own);
  });
});
