import { forceCloseDatabase } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { problemText } from "../../../packages/notebooks/src/kept/problem.ts";
import { UPGRADES, type UpgradeStep } from "../../../packages/notebooks/src/kept/store/database.ts";
import type { Storage, Store } from "../../../packages/notebooks/src/kept/store.ts";
import { afterPut, HandTimers, IDBFactory, patched, storeOn, writeRaw } from "./fixtures.ts";

function memoryProblem(store: Store): string {
  return store.storage.kind === "memory" ? store.storage.problem.code : "none";
}

const textOf = async (store: Store, name: string) => {
  const read = await store.read(name);
  return read.kind === "read" ? read.text : read.problem.code;
};

const nextStep: UpgradeStep = (database) => void database.createObjectStore("later");

describe("a browser that keeps nothing", () => {
  const refusing = (error: DOMException): IDBFactory =>
    ({
      open: () => {
        const request = Object.assign(new EventTarget(), { error, onerror: () => {} });
        queueMicrotask(() => request.onerror());
        return request;
      },
    }) as unknown as IDBFactory;

  test.each<[string, () => IDBFactory | undefined]>([
    ["storage-missing", () => undefined],
    [
      "storage-blocked",
      () => {
        throw new DOMException("denied", "SecurityError");
      },
    ],
    [
      "storage-blocked",
      () =>
        ({
          open: () => {
            throw new DOMException("denied", "SecurityError");
          },
        }) as unknown as IDBFactory,
    ],
    ["storage-blocked", () => refusing(new DOMException("no mutations", "InvalidStateError"))],
    ["storage-full", () => refusing(new DOMException("full", "QuotaExceededError"))],
    ["storage-failed", () => refusing(new DOMException("disk <b>", "UnknownError"))],
    [
      "storage-failed",
      () => {
        throw new TypeError("odd");
      },
    ],
  ])("%s: says so and goes on in memory", async (code, factory) => {
    const store = await storeOn(undefined, { factory });
    expect(memoryProblem(store)).toBe(code);
    expect(store.storage.kind === "memory" && problemText(store.storage.problem)).toMatch(/^storage: [A-Z].*\. .*\.$/);
    expect(await store.save("hut", "a")).toMatchObject({ kind: "saved" });
    expect(await textOf(store, "hut")).toBe("a");
  });

  test("does not keep the page waiting when it never answers", async () => {
    const timers = new HandTimers();
    const silent = { open: () => new EventTarget() } as unknown as IDBFactory;
    const opening = storeOn(silent, { timers });
    timers.pass(2999);
    expect(timers.count).toBe(1);
    timers.pass(1);
    expect(memoryProblem(await opening)).toBe("storage-silent");
  });
});

function abortFor(transaction: IDBTransaction, reason: string): void {
  (transaction as unknown as { _abort(name: string): void })._abort(reason);
}

describe("a full storage", () => {
  test("keeps what was kept before, says so, and works again when there is room", async () => {
    const factory = new IDBFactory();
    await (await storeOn(factory)).save("hut", "a");
    let full = true;
    const store = await storeOn(
      patched(factory, (database) =>
        afterPut(database, (transaction) => {
          // What a browser does when the commit finds no room.
          if (full) abortFor(transaction, "QuotaExceededError");
        }),
      ),
    );
    const before = await store.list();
    for (const result of [
      await store.save("hut", "b", { overwrite: true }),
      await store.save("roof", "c"),
      await store.rename("hut", "cellar"),
      await store.saveDraft("battery", { line: { kind: "shipped", name: "x" }, changes: [], view: {} }),
    ])
      expect(result).toMatchObject({ kind: "problem", problem: { code: "storage-full" } });
    expect(await store.list()).toEqual(before);
    expect(store.storage.kind).toBe("browser");
    full = false;
    expect(await store.save("hut", "b", { overwrite: true })).toMatchObject({ kind: "saved" });
    expect(await textOf(store, "hut")).toBe("b");
  });
});

describe("a crash in the middle of a save", () => {
  test.each([1, 2, 3, 4])("leaves all or nothing after %i records", async (records) => {
    const factory = new IDBFactory();
    const calm = await storeOn(factory);
    const base = await calm.save("hut", "a");
    if (base.kind !== "saved") throw new Error(base.kind);
    await calm.save("hut", "theirs", { basedOn: base.entry });
    // The conflicting save writes a counter, the other version, a counter and its own: four records.
    let left = records;
    const crashing = patched(factory, (database) =>
      afterPut(database, (transaction) => {
        left -= 1;
        if (left !== 0) return;
        transaction.abort();
        forceCloseDatabase(database as never);
      }),
    );
    const store = await storeOn(crashing);
    const result = await store.save("hut", "mine", { basedOn: base.entry });
    expect(result).toMatchObject({ kind: "problem", problem: { code: "storage-interrupted" } });
    const reloaded = await storeOn(factory);
    expect((await reloaded.list()).entries.map(({ name }) => name)).toEqual(["hut"]);
    expect(await textOf(reloaded, "hut")).toBe("theirs");
    // The page that lived through it gets a new connection by itself.
    expect(await store.save("hut", "mine", { basedOn: base.entry })).toMatchObject({ aside: { name: "hut (2)" } });
    expect(store.storage.kind).toBe("browser");
    expect(await textOf(reloaded, "hut (2)")).toBe("theirs");
  });
});

describe("a newer version of the pages in another tab", () => {
  test("may upgrade, keeps what was there, and the older page says so and goes on", async () => {
    const factory = new IDBFactory();
    const told: Storage[] = [];
    const older = await storeOn(factory, { onStorage: (storage) => told.push(storage) });
    await older.save("hut", "a");
    const newer = await storeOn(factory, { upgrades: [...UPGRADES, nextStep] });
    expect(newer.storage.kind).toBe("browser");
    expect(await textOf(newer, "hut")).toBe("a");
    expect(await Promise.all([older.save("roof", "b"), older.save("cellar", "c")])).toMatchObject([
      { kind: "saved" },
      { kind: "saved" },
    ]);
    expect(told).toMatchObject([{ kind: "memory", problem: { code: "storage-newer", hint: "Load the page again." } }]);
    expect(await textOf(older, "roof")).toBe("b");
    expect((await newer.list()).entries.map(({ name }) => name)).toEqual(["hut"]);
  });

  test("that fails to upgrade leaves what was there", async () => {
    const factory = new IDBFactory();
    const before = await storeOn(factory);
    await before.save("hut", "a");
    before.close();
    const failing: UpgradeStep = (database, transaction) => {
      database.deleteObjectStore("lines");
      transaction.abort();
    };
    expect(memoryProblem(await storeOn(factory, { upgrades: [...UPGRADES, failing] }))).toBe("storage-interrupted");
    expect(await textOf(await storeOn(factory), "hut")).toBe("a");
  });

  test("waits for a tab that holds on, but not for long, and leaves no connection behind", async () => {
    const factory = new IDBFactory();
    (await storeOn(factory)).close();
    const holding = await new Promise<IDBDatabase>((resolve) => {
      const request = factory.open("railfault");
      request.onsuccess = () => resolve(request.result);
    });
    const timers = new HandTimers();
    const upgrades = [...UPGRADES, nextStep];
    const opening = storeOn(factory, { timers, upgrades });
    await new Promise((resolve) => setTimeout(resolve, 20));
    timers.pass(3000);
    const store = await opening;
    expect(memoryProblem(store)).toBe("storage-busy");
    expect(await store.save("hut", "a")).toMatchObject({ kind: "saved" });
    holding.close();
    await new Promise((resolve) => setTimeout(resolve, 20));
    const further = await storeOn(factory, {
      upgrades: [...upgrades, (database) => void database.createObjectStore("x")],
    });
    expect(further.storage.kind).toBe("browser");
  });

  test("may be a browser that was told to forget: the page starts over", async () => {
    const factory = new IDBFactory();
    const store = await storeOn(factory);
    await store.save("hut", "a");
    await new Promise<void>((resolve) => {
      factory.deleteDatabase("railfault").onsuccess = () => resolve();
    });
    expect(await store.list()).toEqual({ entries: [], problems: [] });
    expect(await store.save("hut", "b")).toMatchObject({ kind: "saved" });
    expect(await textOf(await storeOn(factory), "hut")).toBe("b");
  });
});

describe("a damaged record", () => {
  const sound = { name: "sound", text: "a", changed_ms: 5, revision: 3 };
  test.each<[string, object]>([
    ["no text", { name: "hut", changed_ms: 1, revision: 1 }],
    ["a text that is none", { name: "hut", text: { a: 1 }, changed_ms: 1, revision: 1 }],
    ["a time that is none", { name: "hut", text: "a", changed_ms: Number.NaN, revision: 1 }],
    ["a revision that is none", { name: "hut", text: "a", changed_ms: 1, revision: 1.5 }],
    ["too long a text", { name: "hut", text: "a".repeat(262145), changed_ms: 1, revision: 1 }],
  ])("with %s is told, hides no other, and may be replaced or removed", async (_, record) => {
    const factory = new IDBFactory();
    const store = await storeOn(factory);
    await writeRaw(factory, "lines", [record, sound]);
    const { entries, problems } = await store.list();
    expect(entries).toEqual([{ name: "sound", bytes: 1, changed_ms: 5, revision: 3 }]);
    expect(problems).toMatchObject([{ code: "storage-damaged", where: "hut" }]);
    expect(await textOf(store, "hut")).toBe("storage-damaged");
    expect(await store.rename("hut", "roof")).toMatchObject({ problem: { code: "storage-damaged" } });
    expect(await store.rename("sound", "hut")).toEqual({ kind: "exists", entry: null });
    expect(await store.save("hut", "b")).toEqual({ kind: "exists", entry: null });
    expect(await store.save("hut", "b", { overwrite: true })).toMatchObject({ kind: "saved", entry: { revision: 4 } });
    await writeRaw(factory, "lines", [record]);
    expect(await store.remove("hut")).toEqual({ kind: "removed", text: null });
    expect((await store.list()).problems).toEqual([]);
  });

  test("whose very name is hostile is shown as text", async () => {
    const factory = new IDBFactory();
    const store = await storeOn(factory);
    await writeRaw(factory, "lines", [{ ...sound, name: "<script>\u202e" }]);
    expect((await store.list()).problems).toMatchObject([{ where: "<script>\\u{202E}" }]);
    expect(await store.remove("<script>\u202e")).toEqual({ kind: "removed", text: null });
  });

  test("of a counter does not give a revision twice", async () => {
    const factory = new IDBFactory();
    const store = await storeOn(factory);
    await writeRaw(factory, "lines", [{ ...sound, revision: 41 }]);
    await writeRaw(factory, "counters", [{ name: "revision", count: "many" }]);
    expect(await store.save("hut", "a")).toMatchObject({ entry: { revision: 42 } });
  });

  test.each<[string, unknown]>([
    ["no state", undefined],
    ["a line that is none", { line: { kind: "other", name: "x" }, changes: [], view: {} }],
    ["a path of the language", { line: { kind: "shipped", name: "x" }, changes: [[["__proto__"], "1"]], view: {} }],
    ["a change that is none", { line: { kind: "shipped", name: "x" }, changes: [["a", "1"]], view: {} }],
    ["a view that is none", { line: { kind: "shipped", name: "x" }, changes: [], view: { zoom: 1 } }],
  ])("as draft with %s is told, and another tab's sound one is taken instead", async (_, state) => {
    const factory = new IDBFactory();
    const store = await storeOn(factory, { tab: "a" });
    await writeRaw(factory, "drafts", [{ page: "battery", tab: "a", state, changed_ms: 9 }]);
    expect(await store.readDraft("battery")).toMatchObject({ kind: "problem", problem: { code: "storage-damaged" } });
    const good = { line: { kind: "shipped", name: "x" }, changes: [], view: {} } as const;
    await writeRaw(factory, "drafts", [{ page: "battery", tab: "b", state: good, changed_ms: 1 }]);
    expect(await store.readDraft("battery")).toEqual({ kind: "read", state: good, changed_ms: 1 });
    expect(await store.saveDraft("battery", good)).toEqual({ kind: "saved" });
  });
});
