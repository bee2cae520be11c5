import { describe, expect, test } from "vitest";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import type { Entry } from "../../../packages/notebooks/src/kept/store/records.ts";
import type { Store } from "../../../packages/notebooks/src/kept/store.ts";
import { channelBus, IDBFactory, storeOn } from "./fixtures.ts";
import { pick, seeded } from "./random-states.ts";

async function saved(store: Store, name: string, text: string, basedOn?: Entry): Promise<Entry> {
  const result = await store.save(name, text, basedOn === undefined ? {} : { basedOn });
  if (result.kind !== "saved") throw new Error(result.kind);
  return result.entry;
}

async function contents(store: Store): Promise<Record<string, string>> {
  const { entries, problems } = await store.list();
  expect(problems).toEqual([]);
  const texts = await Promise.all(
    entries.map(async ({ name }) => {
      const read = await store.read(name);
      return [name, read.kind === "read" ? read.text : read.problem.code] as const;
    }),
  );
  return Object.fromEntries(texts);
}

describe.each([
  ["in the browser", () => storeOn()],
  ["in memory", () => storeOn(undefined, { factory: () => undefined })],
])("kept lines %s", (place, open) => {
  test("say where they are kept", async () => {
    expect((await open()).storage.kind).toBe(place === "in memory" ? "memory" : "browser");
  });

  test("are listed with size and time, last changed first, and read back as they are", async () => {
    const store = await open();
    const text = "\ufefftitle: Hütte # µ\r\n\0";
    await saved(store, "hut", text);
    await saved(store, "roof", "b");
    const { entries } = await store.list();
    expect(entries.map(({ name, bytes, changed_ms }) => [name, bytes, changed_ms])).toEqual([
      ["roof", 1, 1001],
      ["hut", Buffer.byteLength(text), 1000],
    ]);
    expect(await store.read("hut")).toMatchObject({ kind: "read", text, entry: entries[1] });
  });

  test("ask before one replaces another", async () => {
    const store = await open();
    const first = await saved(store, "hut", "a");
    expect(await store.save(" hut ", "b")).toEqual({ kind: "exists", entry: first });
    expect(await contents(store)).toEqual({ hut: "a" });
    expect(await store.save("hut", "b", { overwrite: true })).toMatchObject({ kind: "saved", aside: null });
    expect(await contents(store)).toEqual({ hut: "b" });
  });

  test("do not ask when the same one is saved again", async () => {
    const store = await open();
    const first = await saved(store, "hut", "a");
    const second = await saved(store, "hut", "b", first);
    expect(second.revision).toBeGreaterThan(first.revision);
    expect(await saved(store, "hut", "b")).toEqual(second);
    expect(await contents(store)).toEqual({ hut: "b" });
  });

  test("ask when the text was made from one of another name", async () => {
    const store = await open();
    const hut = await saved(store, "hut", "a");
    await saved(store, "roof", "b");
    expect(await store.save("roof", "c", { basedOn: hut })).toMatchObject({ kind: "exists" });
    expect(await contents(store)).toEqual({ roof: "b", hut: "a" });
  });

  test("are renamed as a whole, and never over another", async () => {
    const store = await open();
    await saved(store, "hut", "a");
    await saved(store, "roof", "b");
    expect(await store.rename("hut", "roof")).toMatchObject({ kind: "exists", entry: { name: "roof" } });
    expect(await store.rename("hut", "  cellar ")).toMatchObject({ kind: "renamed", entry: { name: "cellar" } });
    expect(await store.rename("cellar", "cellar")).toMatchObject({ kind: "renamed" });
    expect(await store.rename("hut", "x")).toMatchObject({ kind: "problem", problem: { code: "not-there" } });
    expect(await contents(store)).toEqual({ roof: "b", cellar: "a" });
    expect((await store.list()).entries.find(({ name }) => name === "cellar")?.changed_ms).toBe(1000);
  });

  test("give back what was removed", async () => {
    const store = await open();
    await saved(store, "hut", "a");
    expect(await store.remove("hut")).toEqual({ kind: "removed", text: "a" });
    expect(await store.remove("hut")).toMatchObject({ kind: "problem", problem: { code: "not-there", where: "hut" } });
    expect(await contents(store)).toEqual({});
  });

  test.each([
    ["", "name-empty"],
    [" \t\n ", "name-empty"],
    ["x".repeat(81), "name-too-long"],
    ["x".repeat(1_000_000), "name-too-long"],
    ["a\u202eb", "name-invisible"],
    ["a\0b", "name-invisible"],
    ["a\nb", "name-invisible"],
    ["a\u200bb", "name-invisible"],
    ["a\ud800", "name-invisible"],
  ])("do not take the name %j", async (name, code) => {
    const store = await open();
    expect(await store.save(name, "a")).toMatchObject({ kind: "problem", problem: { code } });
    expect(await contents(store)).toEqual({});
  });

  test("take names of 80 characters, markup and names of the language; composed and spelled-out letters are one", async () => {
    const store = await open();
    for (const name of ["😀".repeat(80), "<b onclick=x>", "__proto__", "constructor"]) await saved(store, name, name);
    await saved(store, "Hu\u0308tte", "a");
    expect(await store.save("H\u00fctte", "b")).toMatchObject({ kind: "exists" });
    expect((await store.list()).entries.map(({ name }) => name)).toEqual([
      "H\u00fctte",
      "constructor",
      "__proto__",
      "<b onclick=x>",
      "😀".repeat(80),
    ]);
  });

  test("take texts up to 256 KB", async () => {
    const store = await open();
    await saved(store, "hut", "µ".repeat(128 * 1024));
    const result = await store.save("roof", `${"µ".repeat(128 * 1024)}x`);
    expect(result).toMatchObject({ kind: "problem", problem: { code: "text-too-large", allowed: "up to 256 KB" } });
    expect(await store.save("roof", "\ud800")).toMatchObject({ problem: { code: "half-character" } });
    expect((await store.list()).entries.map(({ name, bytes }) => [name, bytes])).toEqual([["hut", 262144]]);
  });

  test("are one after the other even when many are saved at once", async () => {
    const store = await open();
    const results = await Promise.all(Array.from({ length: 20 }, (_, at) => store.save("hut", String(at))));
    expect(results.filter(({ kind }) => kind === "saved")).toHaveLength(1);
    expect(results.filter(({ kind }) => kind === "exists")).toHaveLength(19);
  });
});

describe("two tabs", () => {
  test("tell each other to look again, for lines only and only when something changed", async () => {
    const [factory, channel] = [new IDBFactory(), channelBus()];
    const heard: string[] = [];
    const first = await storeOn(factory, { channel: channel(), onOthers: () => heard.push("first") });
    const second = await storeOn(factory, { channel: channel(), onOthers: () => heard.push("second") });
    await saved(first, "hut", "a");
    expect(heard).toEqual(["second"]);
    await second.rename("hut", "roof");
    expect(heard).toEqual(["second", "first"]);
    await first.save("roof", "b");
    await first.save("", "b");
    await first.remove("hut");
    await first.read("roof");
    expect(heard).toHaveLength(2);
    first.close();
    await second.remove("roof");
    expect(heard).toHaveLength(2);
  });

  test("lose nothing when both save the same line", async () => {
    const factory = new IDBFactory();
    const [mine, theirs] = [await storeOn(factory), await storeOn(factory)];
    const base = await saved(mine, "hut", "a");
    const other = await saved(theirs, "hut", "their b", base);
    const result = await mine.save("hut", "my b", { basedOn: base });
    expect(result).toMatchObject({ kind: "saved", entry: { name: "hut" }, aside: { name: "hut (2)" } });
    expect(await contents(mine)).toEqual({ hut: "my b", "hut (2)": "their b" });
    // The other one does not know yet and saves again.
    expect(await theirs.save("hut", "their c", { basedOn: other })).toMatchObject({ aside: { name: "hut (3)" } });
    expect(await contents(theirs)).toEqual({ hut: "their c", "hut (2)": "their b", "hut (3)": "my b" });
  });

  test("keep a long name's other version within 80 characters and number a numbered one on", async () => {
    const factory = new IDBFactory();
    const store = await storeOn(factory);
    for (const [name, aside] of [
      ["x".repeat(80), `${"x".repeat(76)} (2)`],
      ["hut (2)", "hut (3)"],
    ]) {
      const base = await saved(store, name, "a");
      await saved(store, name, "b", base);
      expect(await store.save(name, "c", { basedOn: base })).toMatchObject({ aside: { name: aside } });
    }
  });

  test("do not take a line deleted and made anew for the old one", async () => {
    const factory = new IDBFactory();
    const [mine, theirs] = [await storeOn(factory), await storeOn(factory)];
    const base = await saved(mine, "hut", "a");
    await theirs.remove("hut");
    await saved(theirs, "hut", "anew");
    expect(await mine.save("hut", "b", { basedOn: base })).toMatchObject({ aside: { name: "hut (2)" } });
    expect(await contents(mine)).toEqual({ hut: "b", "hut (2)": "anew" });
  });

  test("never lose a text, whatever the order of 800 saves and renames", async () => {
    const random = seeded(31);
    const factory = new IDBFactory();
    const tabs = [await storeOn(factory), await storeOn(factory), await storeOn(factory)];
    const held: (Entry | undefined)[] = [undefined, undefined, undefined];
    const alive = new Set<string>();
    let asides = 0;
    for (let round = 0; round < 800; round += 1) {
      const at = Math.floor(random() * 3);
      const store = tabs[at];
      const basedOn = held[at];
      const { entries } = await store.list();
      if (basedOn === undefined || random() < 0.2) held[at] = entries.length > 0 ? pick(random, entries) : undefined;
      else if (random() < 0.15) await store.rename(basedOn.name, `line ${Math.floor(random() * 5)}`);
      const base = held[at];
      const name = base !== undefined && random() < 0.8 ? base.name : `line ${Math.floor(random() * 5)}`;
      const before = await store.read(name);
      const text = `${at} ${round}`;
      const result = await store.save(name, text, base === undefined ? {} : { basedOn: base });
      if (result.kind !== "saved") continue;
      held[at] = result.entry;
      if (result.aside !== null) asides += 1;
      // Only its own earlier version may be replaced without being asked.
      else if (before.kind === "read") {
        expect(before.entry.revision).toBe(base?.revision);
        alive.delete(before.text);
      }
      alive.add(text);
    }
    expect(new Set(Object.values(await contents(tabs[0])))).toEqual(alive);
    expect(alive.size).toBeGreaterThan(20);
    expect(asides).toBeGreaterThan(20);
  });
});

describe("a draft", () => {
  const state: PageState = {
    line: { kind: "own", name: "hut", text: "title: hut\r\n" },
    changes: [
      [["main fuse"], "blade fuse 15 A"],
      [["crowbar"], null],
    ],
    view: { zoom: "trip" },
  };

  test("is there after a reload, for its page only", async () => {
    const factory = new IDBFactory();
    const before = await storeOn(factory, { tab: "a" });
    expect(await before.saveDraft("battery", state)).toEqual({ kind: "saved" });
    before.close();
    const after = await storeOn(factory, { tab: "a" });
    expect(await after.readDraft("battery")).toStrictEqual({ kind: "read", state, changed_ms: 1000 });
    expect(await after.readDraft("hiccup")).toEqual({ kind: "none" });
    expect(await after.dropDraft("battery")).toEqual({ kind: "dropped" });
    expect(await after.readDraft("battery")).toEqual({ kind: "none" });
  });

  test("is the tab's own, or the newest for a tab that has none", async () => {
    const factory = new IDBFactory();
    const of = (name: string): PageState => ({ ...state, line: { kind: "own", name, text: "" } });
    for (const tab of ["a", "b"]) {
      const store = await storeOn(factory, { tab, now: () => (tab === "a" ? 1 : 2) });
      await store.saveDraft("battery", of(tab));
    }
    for (const [tab, name] of [
      ["a", "a"],
      ["b", "b"],
      ["c", "b"],
    ]) {
      const read = await (await storeOn(factory, { tab })).readDraft("battery");
      expect(read.kind === "read" && read.state.line.name).toBe(name);
    }
  });

  test("goes when 20 newer ones of its page are there, and only then", async () => {
    const factory = new IDBFactory();
    for (let tab = 0; tab < 25; tab += 1) {
      const store = await storeOn(factory, { tab: String(tab), now: () => tab });
      await store.saveDraft("battery", state);
      store.close();
    }
    const times: number[] = [];
    for (let tab = 0; tab < 25; tab += 1) {
      const read = await (await storeOn(factory, { tab: String(tab) })).readDraft("battery");
      if (read.kind === "read") times.push(read.changed_ms);
    }
    expect(times).toEqual([24, 24, 24, 24, 24, ...Array.from({ length: 20 }, (_, at) => at + 5)]);
  });

  test("that cannot be kept says why", async () => {
    const store = await storeOn();
    const unfit = { ...state, changes: [[["a", Number.NaN], "x"] as const] };
    expect(await store.saveDraft("battery", unfit)).toMatchObject({ kind: "problem", problem: { code: "path-index" } });
  });
});
