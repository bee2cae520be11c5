import { describe, expect, test } from "vitest";
import type { Change, PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { stateProblems } from "../../../packages/notebooks/src/kept/state.ts";
import { nameProblem } from "../../../packages/notebooks/src/kept/words.ts";
import { applyChanges } from "../../../packages/notebooks/src/line/apply.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { shippedLine, shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";

const TRIP = ["crowbar", "trip voltage"];
const FUSE = ["main fuse"];
const shipped = (name: string, changes: readonly Change[] = []): PageState => ({
  line: { kind: "shipped", name },
  changes,
  view: { zoom: "all" },
});
const lineOf = (changes: readonly Change[] = []) => new Line(shipped("04-foldback", changes), () => 0);
/** Paths of what is changed at present. */
const changed = (line: Line) => line.now.state.changes.map(([path]) => path.join("."));

describe("lines that come with the pages", () => {
  test("are all there, named as their files and titled as the library reads them", () => {
    expect(shippedLines.length).toBeGreaterThan(20);
    for (const { name, title, question } of shippedLines) {
      const { parsed } = new Line(shipped(name)).now;
      expect([title, question], name).toEqual([parsed.about.title, parsed.about.question]);
      expect(parsed.scenario, name).not.toBeNull();
      expect([nameProblem(title), question === ""], name).toEqual([null, false]);
    }
  });

  test("an unknown one is refused by name", () => {
    expect(() => shippedLine("99-nothing")).toThrow(/99-nothing/);
  });
});

describe("changes of a text", () => {
  test("what it can take stands, what it cannot is told, and the comments stay", () => {
    const text = "ambient: 20 °C # in the hut\ncrowbar: none\n";
    const changes: Change[] = [
      [["ambient"], "35 °C"],
      [["crowbar", "trip voltage"], "15 V"],
      [["run for"], "1 s"],
    ];
    const result = applyChanges(text, changes);
    expect(result.text).toBe("ambient: 35 °C # in the hut\ncrowbar: none\nrun for: 1 s\n");
    expect(result.taken).toEqual([changes[0], changes[2]]);
    expect(result.refused.map(({ code, path }) => [code, path])).toEqual([["cannot-change", "crowbar.trip voltage"]]);
  });

  test("a text that cannot be read takes none of them, and says why once", () => {
    const text = "# x\n".repeat(20_000);
    const changes: Change[] = Array.from({ length: 40 }, (_, i) => [["ambient"], `${i} °C`]);
    const result = applyChanges(text, changes);
    expect([result.text, result.taken]).toEqual([text, []]);
    expect(result.refused.map(({ code }) => code)).toEqual(["too-many-remarks"]);
  });
});

describe("spreads that a change leaves behind", () => {
  const scattered = (changes: readonly Change[]) => new Line(shipped("27-scattered-parts", changes)).now;

  test("go with it, and are told; the others stay, and so does the file", () => {
    const { parsed, lostSpreads, refused, original } = scattered([[["crowbar"], null]]);
    expect(refused).toEqual([]);
    expect(lostSpreads).toEqual(["crowbar.trip voltage", "crowbar.sense filter", "crowbar.turn on delay"]);
    expect(parsed.scenario?.crowbar).toBeNull();
    const left = original.spreads.filter(({ label }) => !label.startsWith("crowbar"));
    expect(left.length).toBeGreaterThan(0);
    expect(parsed.spreads.map(({ label, written }) => [label, written])).toEqual(
      left.map(({ label, written }) => [label, written]),
    );
  });

  test("a value that left its range takes its spread along; taken back, the spread is there again", () => {
    const line = new Line(shipped("27-scattered-parts"));
    expect(line.set("delay", [[["crowbar", "turn on delay"], "5 us"]])).toEqual([]);
    expect(line.now.lostSpreads).toEqual(["crowbar.turn on delay"]);
    expect(line.now.parsed.scenario?.crowbar).toMatchObject({ gateDelay: 5e-6 });
    line.undo();
    expect([line.now.lostSpreads, line.now.parsed.spreads.length]).toEqual([[], line.now.original.spreads.length]);
  });

  test("a file that was wrong from the start is not mended by itself", () => {
    const text = shippedLine("27-scattered-parts").text.replace("1.0…2.5 us", "4…5 us");
    const line: PageState["line"] = { kind: "own", name: "mine", text };
    const { parsed, lostSpreads } = new Line({ line, changes: [[["ambient"], "30 °C"]], view: {} }).now;
    expect([parsed.scenario, lostSpreads]).toEqual([null, []]);
  });
});

describe("a line in hand", () => {
  test("changes are made, undone and made again, each with its label", () => {
    const line = lineOf();
    const before = line.now.text;
    expect([line.undoLabel, line.redoLabel]).toEqual([null, null]);
    expect(line.set("main fuse: 15 A", [[FUSE, "blade fuse 15 A"]])).toEqual([]);
    expect(line.now.text).toContain("blade fuse 15 A");
    expect(line.now.parsed.scenario).not.toBeNull();
    line.undo();
    expect([line.now.text, line.undoLabel, line.redoLabel]).toEqual([before, null, "main fuse: 15 A"]);
    line.redo();
    expect(line.now.text).toContain("blade fuse 15 A");
  });

  test("a slider that is moved is one step, and the next one another", () => {
    const line = lineOf();
    for (const volts of [15.1, 15.2, 15.3]) line.set(`trip: ${volts} V`, [[TRIP, `${volts} V`]], "trip");
    line.settle();
    line.set("trip: 16 V", [[TRIP, "16 V"]], "trip");
    line.undo();
    expect(line.now.text).toContain("trip voltage: 15.3 V");
    line.undo();
    expect(changed(line)).toEqual([]);
  });

  test("a path stands once in the changes; what was changed below a path that is replaced goes with it", () => {
    const line = lineOf();
    line.set("a", [[TRIP, "15.5 V"]]);
    line.set("b", [[FUSE, "blade fuse 15 A"]]);
    line.set("c", [[TRIP, "16 V"]]);
    expect(changed(line)).toEqual(["main fuse", "crowbar.trip voltage"]);
    line.set("d", [[["crowbar"], "none"]]);
    expect(changed(line)).toEqual(["main fuse", "crowbar"]);
    expect(stateProblems(line.now.state)).toEqual([]);
  });

  test("set back to what the file says is no change", () => {
    const line = lineOf();
    const original = /trip voltage: (.+? V)/.exec(line.now.text)?.[1] ?? "";
    line.set("a", [[TRIP, "15.9 V"]]);
    line.set("b", [[TRIP, original]]);
    expect([changed(line), line.now.text]).toEqual([[], shippedLine("04-foldback").text]);
  });

  test("but below a replaced block it is one", () => {
    const line = lineOf();
    const original = /trip voltage: (.+? V)/.exec(line.now.text)?.[1] ?? "";
    line.set("a", [[["crowbar"], "{part: SCR 55 A, trip voltage: 16 V}"]]);
    line.set("b", [[TRIP, original]]);
    expect(changed(line)).toEqual(["crowbar", "crowbar.trip voltage"]);
    expect(line.now.text).toContain(`{part: SCR 55 A, trip voltage: ${original}}`);
  });

  test("what the text cannot take changes nothing and is told to who follows", () => {
    const line = lineOf();
    line.set("none", [[["crowbar"], "none"]]);
    const heard: number[] = [];
    line.follow(({ refused }) => heard.push(refused.length));
    const { state, text } = line.now;
    const refused = line.set("trip", [[TRIP, "15 V"]]);
    expect(refused.map(({ code }) => code)).toEqual(["cannot-change"]);
    expect([line.now.state, line.now.text, heard]).toEqual([state, text, [0, 1]]);
    expect(line.undoLabel).toBe("none");
    line.set("fuse", [[FUSE, "blade fuse 15 A"]]);
    expect(line.now.refused).toEqual([]);
  });

  test("a change of an address that the text cannot take is told and stands in no other's way", () => {
    const line = lineOf([
      [["crowbar"], "none"],
      [TRIP, "15 V"],
    ]);
    expect(line.now.refused.map(({ path }) => path)).toEqual(["crowbar.trip voltage"]);
    expect(line.set("fuse", [[FUSE, "blade fuse 15 A"]])).toEqual([]);
    expect([changed(line), line.now.refused]).toEqual([["crowbar", "main fuse"], []]);
  });

  test("one change is taken back and the others stay, unless they stand on it", () => {
    const line = lineOf();
    line.set("a", [[["crowbar"], "none"]]);
    line.set("b", [[FUSE, "blade fuse 15 A"]]);
    expect(line.takeBack(["crowbar"], "take back crowbar")).toEqual([]);
    expect([changed(line), line.undoLabel]).toEqual([["main fuse"], "take back crowbar"]);
    const own = new Line({ line: { kind: "own", name: "Hut", text: "crowbar: none\n" }, changes: [], view: {} });
    own.set("a", [[["crowbar"], "{part: SCR 55 A}"]]);
    own.set("b", [[TRIP, "15 V"]]);
    expect(own.takeBack(["crowbar"], "x").map(({ path }) => path)).toEqual(["crowbar.trip voltage"]);
    expect(changed(own)).toEqual(["crowbar", "crowbar.trip voltage"]);
  });

  test("starting over takes all back, and undo brings it again", () => {
    const line = lineOf();
    line.reset();
    expect(line.undoLabel).toBeNull();
    line.set("a", [[TRIP, "15.5 V"]]);
    line.set("b", [[FUSE, "blade fuse 15 A"]]);
    line.reset();
    expect([changed(line), line.undoLabel]).toEqual([[], "start over"]);
    line.undo();
    expect(changed(line)).toEqual(["crowbar.trip voltage", "main fuse"]);
  });

  test("a text of one's own takes its place, keeps the name, and undo comes back to the shipped one", () => {
    const line = lineOf();
    line.set("a", [[TRIP, "15.5 V"]]);
    const typed = `${line.now.text}# mine\n`;
    line.edit(typed, "typing");
    line.edit(`${typed}# more\n`, "typing");
    const { state, text, title } = line.now;
    expect([state.line.kind, state.line.name, state.changes]).toEqual(["own", shippedLine("04-foldback").title, []]);
    expect([text.endsWith("# mine\n# more\n"), title]).toEqual([true, shippedLine("04-foldback").title]);
    expect(stateProblems(state)).toEqual([]);
    line.edit(text);
    line.undo();
    expect([line.now.state.line.kind, changed(line)]).toEqual(["shipped", ["crowbar.trip voltage"]]);
  });

  test("opened and kept: the name changes without a step of undo", () => {
    const line = lineOf();
    line.set("a", [[TRIP, "15.5 V"]]);
    const { text } = line.now;
    line.keptAs("Hut");
    expect([line.now.state.line, changed(line), line.undoLabel]).toEqual([{ kind: "own", name: "Hut", text }, [], "a"]);
    line.rename("Roof");
    expect([line.now.state.line.name, line.undoLabel]).toEqual(["Roof", "a"]);
    line.undo();
    expect(line.now.state.line).toEqual({ kind: "shipped", name: "04-foldback" });
    line.redo();
    expect([line.now.state.line.name, line.now.text]).toEqual(["Roof", text]);
    line.open({ kind: "shipped", name: "05-latch-off" });
    expect(line.undoLabel).toBe(`open ${shippedLine("05-latch-off").title}`);
  });

  test("what is looked at is no step of undo and stays through one", () => {
    const line = lineOf();
    line.set("a", [[TRIP, "15.5 V"]]);
    line.look({ zoom: "near" });
    line.undo();
    expect([line.now.state.view, line.undoLabel, line.redoLabel]).toEqual([{ zoom: "near" }, null, "a"]);
    line.restore({ ...shipped("05-latch-off"), view: { zoom: "far" } }, "the address");
    expect([line.now.state.view, line.now.state.line.name]).toEqual([{ zoom: "far" }, "05-latch-off"]);
    line.undo();
    expect(line.now.state.line.name).toBe("04-foldback");
  });

  test("a text that cannot be read is a line too, called by its name", () => {
    const text = "title: [\n";
    const line = new Line({ line: { kind: "own", name: "Broken", text }, changes: [], view: {} });
    expect([line.now.title, line.now.parsed.scenario, line.now.text]).toEqual(["Broken", null, text]);
    expect(line.set("a", [[TRIP, "15 V"]]).length).toBeGreaterThan(0);
    expect(line.now.text).toBe(text);
  });

  test("followers hear at once, after each change, and no more once they end it, also from within", () => {
    const line = lineOf();
    const heard: string[] = [];
    const end = line.follow(() => heard.push("first"));
    const once = line.follow(() => {
      heard.push("once");
      if (heard.length > 2) once();
    });
    line.set("a", [[TRIP, "15.5 V"]]);
    end();
    line.set("b", [[TRIP, "15.6 V"]]);
    expect(heard).toEqual(["first", "once", "first", "once"]);
  });

  test("the text as it was opened is read once and stays beside the changed one", () => {
    const line = lineOf();
    const { original } = line.now;
    expect(line.now.parsed).toBe(original);
    line.set("a", [[TRIP, "15.5 V"]]);
    expect([line.now.original === original, line.now.parsed === original]).toEqual([true, false]);
    line.reset();
    expect(line.now.parsed).toBe(original);
  });
});
