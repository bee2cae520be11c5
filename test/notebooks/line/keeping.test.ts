import { describe, expect, test } from "vitest";
import { decodeAddress, encodeAddress } from "../../../packages/notebooks/src/kept/address.ts";
import type { Problem } from "../../../packages/notebooks/src/kept/problem.ts";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { keepLine } from "../../../packages/notebooks/src/line/keeping.ts";
import { FALLBACK, IDBFactory, settled, type Window, windowOf } from "./desk.ts";

const TRIP = ["crowbar", "trip voltage"];
const changedState: PageState = { ...FALLBACK, changes: [[TRIP, "15.5 V"]] };
const hashOf = (state: PageState): string => {
  const encoded = encodeAddress(state);
  if (encoded.kind !== "address") throw new Error(encoded.kind);
  return encoded.hash;
};
/** What an address says; what is looked at as the page comes need not be said. */
const stateIn = (address: string): PageState => {
  const hash = address.slice(address.indexOf("#"));
  const { state, problems } = decodeAddress(hash, { fallback: FALLBACK, shipped: ["04-foldback"], views: ["zoom"] });
  if (problems.length > 0) throw new Error(`${hash}: ${problems[0]?.message}`);
  return { ...state, view: { ...FALLBACK.view, ...state.view } };
};

async function keep(window: Window) {
  const told: (readonly Problem[])[] = [];
  const kept = await keepLine({ window, page: "desk", fallback: FALLBACK, onProblems: (found) => told.push(found) });
  await kept.store;
  await settled();
  const codes = () => (told.at(-1) ?? []).map(({ code }) => code);
  return { kept, told, codes };
}

/** A session on a database: changes something, leaves. */
async function session(factory: IDBFactory, work: (kept: Awaited<ReturnType<typeof keep>>["kept"]) => void) {
  const { window } = windowOf({ factory });
  const { kept } = await keep(window);
  work(kept);
  kept.leave();
  await settled();
  return window;
}

describe("where a page begins", () => {
  test("as it comes, when nothing was left; the address stays bare", async () => {
    const { window } = windowOf();
    const { kept, told } = await keep(window);
    expect([kept.from, kept.line.now.state, told, window.location.hash]).toEqual(["start", FALLBACK, [], ""]);
    expect(await kept.before).toBeNull();
    kept.leave();
  });

  test("with what the address says; what it does not say is as the page comes", async () => {
    const { window } = windowOf({ hash: hashOf({ ...changedState, view: {} }) });
    const { kept } = await keep(window);
    expect([kept.from, kept.line.now.state, kept.line.undoLabel]).toEqual(["address", changedState, null]);
    kept.leave();
  });

  test("with what was left here, and the address says so too", async () => {
    const factory = new IDBFactory();
    await session(factory, ({ line }) => line.set("trip", [[TRIP, "15.5 V"]]));
    const { window } = windowOf({ factory });
    const { kept } = await keep(window);
    expect([kept.from, kept.line.now.state.changes]).toEqual(["draft", changedState.changes]);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(stateIn(window.location.hash)).toEqual(changedState);
    kept.leave();
  });

  test("a link pushes aside what was left, and that is not lost", async () => {
    const factory = new IDBFactory();
    await session(factory, ({ line }) => line.set("trip", [[TRIP, "15.5 V"]]));
    const { window } = windowOf({ factory, hash: "#v=1&line=05-latch-off" });
    const { kept } = await keep(window);
    expect([kept.from, kept.line.now.state.line.name]).toEqual(["address", "05-latch-off"]);
    expect((await kept.before)?.changes).toEqual(changedState.changes);
    kept.leave();
  });

  test("a reload with the same in address and storage has nothing to bring back", async () => {
    const factory = new IDBFactory();
    await session(factory, ({ line }) => line.set("trip", [[TRIP, "15.5 V"]]));
    const { window } = windowOf({ factory, hash: hashOf(changedState) });
    const { kept } = await keep(window);
    expect(await kept.before).toBeNull();
    kept.leave();
  });

  test("a storage that does not answer keeps nobody waiting", async () => {
    const silent = { open: () => ({ addEventListener() {}, removeEventListener() {} }) } as unknown as IDBFactory;
    const { window } = windowOf({ factory: silent });
    const begun = performance.now();
    const kept = await keepLine({ window, page: "desk", fallback: FALLBACK, onProblems: () => {} });
    expect(performance.now() - begun).toBeLessThan(1500);
    expect(kept.from).toBe("start");
    kept.leave();
  });
});

describe("while a page is used", () => {
  test("a change made before the storage has answered is kept as well", async () => {
    const factory = new IDBFactory();
    const { window } = windowOf({ factory, hash: "#v=1&line=04-foldback" });
    const kept = await keepLine({ window, page: "desk", fallback: FALLBACK, onProblems: () => {} });
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    await kept.store;
    await settled();
    kept.leave();
    await settled();
    const again = await keep(windowOf({ factory }).window);
    expect(again.kept.line.now.state.changes).toEqual(changedState.changes);
    again.kept.leave();
  });

  test("an address that is followed by hand can be undone; a broken one says what is wrong", async () => {
    const { window } = windowOf();
    const { kept, codes } = await keep(window);
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    const go = async (hash: string) => {
      window.location.hash = hash;
      await new Promise((resolve) => setTimeout(resolve, 30));
    };
    await go("#v=1&line=05-latch-off");
    expect([kept.line.now.state.line.name, codes()]).toEqual(["05-latch-off", []]);
    await go("#v=1&line=<img src=x>");
    expect(codes()).toEqual(["unknown-line"]);
    expect(kept.line.now.state.line.name).toBe("04-foldback");
    kept.line.undo();
    kept.line.undo();
    expect(kept.line.now.state.changes).toEqual(changedState.changes);
    kept.leave();
  });

  test("what one side tells is not wiped out by another that is well again", async () => {
    const { window } = windowOf({ factory: undefined as never, hash: "#v=1&line=nowhere" });
    Object.defineProperty(window, "indexedDB", { value: undefined });
    const { kept, codes } = await keep(window);
    expect(codes()).toEqual(["unknown-line", "storage-missing"]);
    window.location.hash = "#v=1&line=05-latch-off";
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(codes()).toEqual(["storage-missing"]);
    kept.leave();
  });

  test("once left, it writes no more", async () => {
    const factory = new IDBFactory();
    const window = await session(factory, ({ line }) => line.set("trip", [[TRIP, "15.5 V"]]));
    const { window: second } = windowOf({ factory });
    const { kept } = await keep(second);
    kept.leave();
    kept.line.set("trip", [[TRIP, "16.5 V"]]);
    second.dispatchEvent(new second.Event("pagehide"));
    await settled();
    const third = await keep(windowOf({ factory }).window);
    expect(third.kept.line.now.state.changes).toEqual(changedState.changes);
    expect(stateIn(window.location.hash)).toEqual(changedState);
    third.kept.leave();
  });

  test("the link to pass on says the state of now", async () => {
    const { window } = windowOf();
    const { kept } = await keep(window);
    kept.line.set("trip", [[TRIP, "15.5 V"]]);
    const shared = kept.share();
    if (shared.kind !== "address") throw new Error(shared.kind);
    expect([shared.address.split("#")[0], stateIn(shared.address)]).toEqual([
      "https://hut.example/page.html",
      changedState,
    ]);
    kept.leave();
  });
});
