import { describe, expect, test } from "vitest";
import { historyKeys, type PressedKey } from "../../../packages/notebooks/src/kept/history/keys.ts";
import {
  changeTrack,
  keepHistory,
  MOST_STEPS,
  redoTrack,
  startTrack,
  type Track,
  undoTrack,
} from "../../../packages/notebooks/src/kept/history.ts";
import { pick, seeded } from "./random-states.ts";

function clocked(value: string) {
  const clock = { ms: 0 };
  return { clock, history: keepHistory(value, () => clock.ms) };
}

describe("undo and redo", () => {
  test("walk back and forth, with the labels of what they would do", () => {
    const { history } = clocked("30 A");
    history.change("15 A", "main fuse: 15 A");
    history.change("10 A", "main fuse: 10 A");
    expect([history.undoLabel, history.redoLabel]).toEqual(["main fuse: 10 A", null]);
    history.undo();
    expect([history.value, history.undoLabel, history.redoLabel]).toEqual([
      "15 A",
      "main fuse: 15 A",
      "main fuse: 10 A",
    ]);
    history.undo();
    expect([history.value, history.undoLabel, history.redoLabel]).toEqual(["30 A", null, "main fuse: 15 A"]);
    history.redo();
    history.redo();
    expect([history.value, history.undoLabel, history.redoLabel]).toEqual(["10 A", "main fuse: 10 A", null]);
  });

  test("do nothing and tell nobody where there is nothing to do", () => {
    const { history } = clocked("a");
    let told = 0;
    history.listen(() => told++);
    history.undo();
    history.redo();
    history.change("a", "no change");
    expect([history.value, history.undoLabel, told]).toEqual(["a", null, 0]);
  });

  test("a change after an undo forgets what was taken back", () => {
    const { history } = clocked("a");
    history.change("b", "b");
    history.undo();
    history.change("c", "c");
    expect(history.redoLabel).toBeNull();
    history.undo();
    expect(history.value).toBe("a");
  });

  test("do not see a value put into another form, and it joins no drag", () => {
    const { history } = clocked("a");
    let told = 0;
    history.listen(() => told++);
    history.change("b", "b", "key");
    history.replace("B");
    history.replace("B");
    expect([history.value, history.undoLabel, told]).toEqual(["B", "b", 2]);
    history.change("c", "c", "key");
    history.undo();
    expect(history.value).toBe("B");
    history.undo();
    expect([history.value, history.redoLabel]).toEqual(["a", "b"]);
  });

  test("go back 200 changes and no further", () => {
    const { history } = clocked("0");
    for (let step = 1; step <= 250; step += 1) history.change(String(step), `step ${step}`);
    let back = 0;
    for (; history.undoLabel !== null; back += 1) history.undo();
    expect([back, history.value]).toEqual([MOST_STEPS, "50"]);
  });

  test("never change a track that somebody holds", () => {
    const random = seeded(5);
    let track: Track<number> = startTrack(0);
    for (let round = 0; round < 500; round += 1) {
      const frozen = JSON.stringify(track);
      const move = pick(random, [undoTrack<number>, redoTrack<number>, null]);
      const change = { value: round, label: String(round), key: pick(random, ["a", "b"]), at_ms: round * 400 };
      const next: Track<number> = move === null ? changeTrack(track, change) : move(track);
      expect(JSON.stringify(track)).toBe(frozen);
      if (move === undoTrack && next !== track) expect(redoTrack(next).value).toBe(track.value);
      track = next;
    }
  });
});

describe("a slider that is being moved", () => {
  test("leaves one change with its last label", () => {
    const { clock, history } = clocked("15.0 V");
    for (const volts of ["15.1 V", "15.2 V", "15.3 V"]) {
      history.change(volts, `trip voltage: ${volts}`, "trip voltage");
      clock.ms += 600;
    }
    expect(history.undoLabel).toBe("trip voltage: 15.3 V");
    history.undo();
    expect([history.value, history.undoLabel]).toEqual(["15.0 V", null]);
    history.redo();
    expect(history.value).toBe("15.3 V");
  });

  test.each<[string, (moved: ReturnType<typeof clocked>) => void]>([
    [
      "601 ms pass",
      ({ clock }) => {
        clock.ms += 601;
      },
    ],
    ["it was let go", ({ history }) => history.settle()],
    ["another one was moved", ({ history }) => history.change("x", "x", "other")],
    ["a change stands on its own between", ({ history }) => history.change("x", "x")],
    [
      "the change was taken back and made again",
      ({ history }) => {
        history.undo();
        history.redo();
      },
    ],
    [
      "the clock went back",
      ({ clock }) => {
        clock.ms -= 1;
      },
    ],
  ])("begins a new change when %s", (_, between) => {
    const moved = clocked("a");
    moved.history.change("b", "b", "key");
    between(moved);
    moved.history.change("c", "c", "key");
    moved.history.undo();
    expect(moved.history.value).not.toBe("a");
  });

  test("does not join changes without a key", () => {
    const { history } = clocked("a");
    history.change("b", "b");
    history.change("c", "c");
    history.undo();
    expect(history.value).toBe("b");
  });
});

test("listeners hear each change until they end it, also while being told", () => {
  const { history } = clocked("a");
  const heard: string[] = [];
  const end = history.listen(({ value }) => {
    heard.push(value);
    if (value === "c") end();
  });
  history.listen(({ value }) => heard.push(`second ${value}`));
  for (const value of ["b", "c", "d"]) history.change(value, value);
  history.restart("e");
  expect(heard).toEqual(["b", "second b", "c", "second c", "second d", "second e"]);
  expect(history.undoLabel).toBeNull();
});

describe("keys", () => {
  function press(part: Partial<PressedKey> & { key: string }, target: object | null = null): string {
    let done = "nothing";
    let prevented = false;
    const event: PressedKey = {
      code: `Key${part.key.toUpperCase()}`,
      ctrlKey: false,
      metaKey: false,
      shiftKey: false,
      altKey: false,
      isComposing: false,
      defaultPrevented: false,
      target: target as EventTarget | null,
      preventDefault: () => {
        prevented = true;
      },
      ...part,
    };
    historyKeys({ undo: () => (done = "undo"), redo: () => (done = "redo") })(event);
    expect(prevented).toBe(done !== "nothing");
    return done;
  }
  const ctrl = { ctrlKey: true };
  const meta = { metaKey: true };
  const shift = { shiftKey: true };

  test.each<[string, Partial<PressedKey> & { key: string }]>([
    ["undo", { key: "z", ...ctrl }],
    ["undo", { key: "z", ...meta }],
    ["redo", { key: "Z", ...ctrl, ...shift }],
    ["redo", { key: "Z", ...meta, ...shift }],
    ["redo", { key: "y", ...ctrl }],
    ["undo", { key: "я", code: "KeyZ", ...ctrl }],
    ["undo", { key: "z", code: "KeyY", ...ctrl }],
    ["redo", { key: "y", code: "KeyZ", ...ctrl }],
    ["nothing", { key: "y", ...meta }],
    ["nothing", { key: "z" }],
    ["nothing", { key: "z", ...ctrl, ...meta }],
    ["nothing", { key: "z", ...ctrl, altKey: true }],
    ["nothing", { key: "z", ...ctrl, isComposing: true }],
    ["nothing", { key: "z", ...ctrl, defaultPrevented: true }],
    ["nothing", { key: "x", ...ctrl }],
  ])("%s: %o", (done, pressed) => {
    expect(press(pressed)).toBe(done);
  });

  test("stay with a field in which text is written, also inside a shadow tree", () => {
    const undo = { key: "z", ...ctrl };
    for (const type of ["text", "number", "search", "email", undefined])
      expect(press(undo, { tagName: "INPUT", type })).toBe("nothing");
    expect(press(undo, { tagName: "TEXTAREA" })).toBe("nothing");
    expect(press(undo, { tagName: "DIV", isContentEditable: true })).toBe("nothing");
    const inside = { tagName: "TEXTAREA" } as unknown as EventTarget;
    expect(press({ ...undo, composedPath: () => [inside] }, { tagName: "X-FIELD" })).toBe("nothing");
    for (const type of ["range", "checkbox", "radio"]) expect(press(undo, { tagName: "INPUT", type })).toBe("undo");
    expect(press(undo, { tagName: "SELECT" })).toBe("undo");
  });
});
