import { describe, expect, test } from "vitest";
import { type PageState, stateProblems } from "../../../packages/notebooks/src/kept/state.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";

const FUSE = ["main fuse"];
const shipped = (name: string): PageState => ({ line: { kind: "shipped", name }, changes: [], view: { zoom: "all" } });
const changed = (line: Line) => line.now.state.changes.map(([path]) => path.join("."));

describe("what is arranged beside a line", () => {
  const arranging = () =>
    new Line({ ...shipped("04-foldback"), view: { zoom: "all", slides: "" } }, () => 0, ["slides"]);

  test("is undone and made again, step by step, and what is only looked at stays as it is", () => {
    const line = arranging();
    line.arrange("move a slide", { slides: "1.b,1.a" });
    line.look({ zoom: "first" });
    line.set("fuse", [[FUSE, "blade fuse 15 A"]]);
    line.arrange("remove a slide", { slides: "1.b" });
    expect(line.now.state.view).toEqual({ zoom: "first", slides: "1.b" });
    expect(line.undoLabel).toBe("remove a slide");
    line.undo();
    expect(line.now.state.view.slides).toBe("1.b,1.a");
    line.undo();
    expect([changed(line), line.now.state.view.slides]).toEqual([[], "1.b,1.a"]);
    line.undo();
    expect(line.now.state.view).toEqual({ zoom: "first", slides: "" });
    line.redo();
    expect(line.now.state.view.slides).toBe("1.b,1.a");
  });

  test("comes with a state that is put back, and goes with its undo", () => {
    const line = arranging();
    line.restore({ ...shipped("02-hiccup-supply"), view: { slides: "1.fault" } }, "the address");
    expect(line.now.state.view.slides).toBe("1.fault");
    line.undo();
    expect(line.now.state.view.slides).toBe("");
  });

  test("may be long where a switch of the page may not", () => {
    const state = (view: Record<string, string>): PageState => ({ ...shipped("04-foldback"), view });
    expect(stateProblems(state({ words: "x".repeat(100_000) }))).toEqual([]);
    const told = [
      ...stateProblems(state({ words: "x".repeat(100_001) })),
      ...stateProblems(state({ zoom: "x".repeat(201) })),
    ];
    expect(told.map(({ code, allowed }) => `${code}: ${allowed}`)).toEqual([
      "view-value: up to 100\u202f000 visible characters",
      "view-value: up to 200 visible characters",
    ]);
  });
});
