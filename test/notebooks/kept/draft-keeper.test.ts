import { expect, test } from "vitest";
import { problem } from "../../../packages/notebooks/src/kept/problem.ts";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { keepDraft } from "../../../packages/notebooks/src/kept/store/draft-keeper.ts";
import type { DraftSaved } from "../../../packages/notebooks/src/kept/store/drafts.ts";
import { HandTimers, IDBFactory, storeOn } from "./fixtures.ts";

function draft(name: string): PageState {
  return { line: { kind: "shipped", name }, changes: [], view: {} };
}

function keeper() {
  const timers = new HandTimers();
  const events = new EventTarget();
  const saves: { readonly name: string; readonly end: (saved: DraftSaved) => void }[] = [];
  const told: (string | null)[] = [];
  const store = {
    saveDraft: (_: string, { line }: PageState) =>
      new Promise<DraftSaved>((end) => void saves.push({ name: line.name, end })),
  };
  const onProblem = (found: { code: string } | null) => void told.push(found?.code ?? null);
  const kept = keepDraft({ store, page: "battery", events, timers, onProblem });
  return { timers, events, saves, told, kept };
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

test("a draft is kept 400 ms after the last change", async () => {
  const { timers, saves, kept } = keeper();
  for (const name of ["a", "b", "c"]) {
    kept.put(draft(name));
    timers.pass(399);
  }
  await settle();
  expect(saves).toEqual([]);
  timers.pass(1);
  await settle();
  expect(saves.map(({ name }) => name)).toEqual(["c"]);
});

test("a later draft waits for an earlier one that is still being written", async () => {
  const { timers, saves, kept } = keeper();
  for (const name of ["a", "b"]) {
    kept.put(draft(name));
    timers.pass(400);
  }
  await settle();
  expect(saves.map(({ name }) => name)).toEqual(["a"]);
  saves[0].end({ kind: "saved" });
  await settle();
  expect(saves.map(({ name }) => name)).toEqual(["a", "b"]);
});

test("a failing storage is told once, and once more when it works again", async () => {
  const { timers, saves, told, kept } = keeper();
  const full: DraftSaved = { kind: "problem", problem: problem("storage-full", "storage", "Full.") };
  for (const saved of [full, full, { kind: "saved" }, { kind: "saved" }] as const) {
    kept.put(draft("a"));
    timers.pass(400);
    await settle();
    saves.at(-1)?.end(saved);
    await settle();
  }
  expect(told).toEqual(["storage-full", null]);
});

test("what waits is kept when the page goes, and after stopping nothing is heard", async () => {
  const { events, saves, kept, timers } = keeper();
  kept.put(draft("a"));
  events.dispatchEvent(new Event("pagehide"));
  await settle();
  expect(saves.map(({ name }) => name)).toEqual(["a"]);
  kept.put(draft("b"));
  const stopped = kept.stop();
  saves[0].end({ kind: "saved" });
  await settle();
  saves[1].end({ kind: "saved" });
  await stopped;
  events.dispatchEvent(new Event("pagehide"));
  expect([saves.map(({ name }) => name), timers.count]).toEqual([["a", "b"], 0]);
});

test("the last draft put into a real store is found after a reload", async () => {
  const factory = new IDBFactory();
  const store = await storeOn(factory, { tab: "a" });
  const timers = new HandTimers();
  const kept = keepDraft({ store, page: "battery", events: new EventTarget(), timers, onProblem: () => {} });
  for (let at = 0; at < 30; at += 1) {
    kept.put(draft(`d${at}`));
    if (at % 7 === 0) timers.pass(400);
  }
  await kept.flush();
  store.close();
  const read = await (await storeOn(factory, { tab: "a" })).readDraft("battery");
  expect(read.kind === "read" && read.state.line.name).toBe("d29");
});
