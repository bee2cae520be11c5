import type { Problem } from "./problem.ts";
import type { PageState } from "./state.ts";
import { openDatabase, UPGRADES, type UpgradeStep } from "./store/database.ts";
import { type DraftRead, type DraftSaved, readDraft, saveDraft } from "./store/drafts.ts";
import { storageMissing, storageProblem } from "./store/failure.ts";
import {
  type Listing,
  listLines,
  type Read,
  type Refusal,
  type Removed,
  type Renamed,
  readLine,
  removeLine,
  renameLine,
  type Saved,
  type SaveOptions,
  saveLine,
} from "./store/lines.ts";
import { memoryPlace } from "./store/memory.ts";
import { ConnectionGone, type Place, type Tables } from "./store/tables.ts";
import { systemTimers, type Timers } from "./timers.ts";

/** Where things are kept: in the browser, or only until the page closes, and then why. */
export type Storage = { readonly kind: "browser" } | { readonly kind: "memory"; readonly problem: Problem };

export interface StoreOptions {
  /** Gives the browser's database; asking for it may throw: `() => indexedDB`. */
  readonly factory: () => IDBFactory | undefined;
  /** The time, ms since 1970: `Date.now`. */
  readonly now: () => number;
  /** Tells this tab from others, also after a reload: a random word in `sessionStorage`. */
  readonly tab?: string;
  /** How tabs tell each other: `new BroadcastChannel("railfault")`. */
  readonly channel?: Pick<BroadcastChannel, "postMessage" | "addEventListener" | "removeEventListener">;
  /** Another tab changed the kept lines: list them again. */
  readonly onOthers?: () => void;
  /** The storage was lost on the way; from here on only this page's memory keeps anything. */
  readonly onStorage?: (storage: Storage) => void;
  readonly timers?: Timers;
  /** Only for tests: versions of the database. */
  readonly upgrades?: readonly UpgradeStep[];
}

/** Named lines and drafts. No method ever rejects: what fails comes back as a problem. */
export interface Store {
  readonly storage: Storage;
  list(): Promise<Listing>;
  read(name: string): Promise<Read>;
  /** Keeps a text under a name; `exists` when the name is taken and nobody said that it may be replaced. */
  save(name: string, text: string, options?: SaveOptions): Promise<Saved>;
  rename(from: string, to: string): Promise<Renamed>;
  remove(name: string): Promise<Removed>;
  saveDraft(page: string, state: PageState): Promise<DraftSaved>;
  /** This tab's draft of a page, or else the newest one of another tab. */
  readDraft(page: string): Promise<DraftRead>;
  dropDraft(page: string): Promise<{ readonly kind: "dropped" } | Refusal>;
  close(): void;
}

const DATABASE = "railfault";
const CHANGED = "kept lines changed";

/**
 * Opens what is kept in this browser. When that cannot be, a store in memory takes its place and `storage` says why.
 *
 * @example
 * const store = await openStore({ factory: () => indexedDB, now: Date.now });
 * if (store.storage.kind === "memory") say(problemText(store.storage.problem));
 * const saved = await store.save("Hut", text);
 * if (saved.kind === "exists" && (await ask())) await store.save("Hut", text, { overwrite: true });
 */
export async function openStore(options: StoreOptions): Promise<Store> {
  const opened = await openPlace(options);
  return new Kept(options, opened.place, opened.storage);
}

interface Opened {
  readonly place: Place;
  readonly storage: Storage;
}

async function openPlace({ factory, timers = systemTimers, upgrades = UPGRADES }: StoreOptions): Promise<Opened> {
  const inMemory = (problem: Problem): Opened => ({ place: memoryPlace(), storage: { kind: "memory", problem } });
  try {
    const found = factory();
    if (found === undefined) return inMemory(storageMissing());
    return { place: await openDatabase(found, DATABASE, timers, upgrades), storage: { kind: "browser" } };
  } catch (error) {
    return inMemory(storageProblem(error));
  }
}

class Kept implements Store {
  private readonly tab: string;
  private reopening: Promise<void> | null = null;
  private closed = false;

  constructor(
    private readonly options: StoreOptions,
    private place: Place,
    private kept: Storage,
  ) {
    this.tab = options.tab ?? "";
    options.channel?.addEventListener("message", this.heard);
  }

  get storage(): Storage {
    return this.kept;
  }

  async list(): Promise<Listing> {
    const listing = await this.attempt("readonly", listLines);
    return "entries" in listing ? listing : { entries: [], problems: [listing.problem] };
  }

  read(name: string): Promise<Read> {
    return this.attempt("readonly", (tables) => readLine(tables, name));
  }

  save(name: string, text: string, options: SaveOptions = {}): Promise<Saved> {
    return this.change((tables) => saveLine(tables, name, text, this.options.now(), options));
  }

  rename(from: string, to: string): Promise<Renamed> {
    return this.change((tables) => renameLine(tables, from, to));
  }

  remove(name: string): Promise<Removed> {
    return this.change((tables) => removeLine(tables, name));
  }

  saveDraft(page: string, state: PageState): Promise<DraftSaved> {
    const draft = { page, tab: this.tab, state, changed_ms: this.options.now() };
    return this.attempt("readwrite", (tables) => saveDraft(tables, draft));
  }

  readDraft(page: string): Promise<DraftRead> {
    return this.attempt("readonly", (tables) => readDraft(tables, page, this.tab));
  }

  dropDraft(page: string): Promise<{ readonly kind: "dropped" } | Refusal> {
    return this.attempt("readwrite", async (tables) => {
      await tables.remove("drafts", [page, this.tab]);
      return { kind: "dropped" };
    });
  }

  close(): void {
    this.closed = true;
    this.options.channel?.removeEventListener("message", this.heard);
    this.place.close();
  }

  private readonly heard = (event: Event): void => {
    if ((event as MessageEvent).data === CHANGED) this.options.onOthers?.();
  };

  private async change<T extends { readonly kind: string }>(
    action: (tables: Tables) => Promise<T>,
  ): Promise<T | Refusal> {
    const result = await this.attempt("readwrite", action);
    if (result.kind !== "problem" && result.kind !== "exists" && this.kept.kind === "browser") this.tellOthers();
    return result;
  }

  private tellOthers(): void {
    try {
      this.options.channel?.postMessage(CHANGED);
    } catch {
      // A channel that was closed tells nobody; the others notice when they save.
    }
  }

  private async attempt<T>(
    mode: "readonly" | "readwrite",
    action: (tables: Tables) => Promise<T>,
  ): Promise<T | Refusal> {
    try {
      return await this.place.run(mode, action);
    } catch (error) {
      if (!(error instanceof ConnectionGone) || this.closed) return { kind: "problem", problem: storageProblem(error) };
    }
    // Nothing was begun: once more on a new connection, or in memory.
    await this.reopen();
    try {
      return await this.place.run(mode, action);
    } catch (error) {
      return { kind: "problem", problem: storageProblem(error) };
    }
  }

  private reopen(): Promise<void> {
    this.reopening ??= openPlace(this.options).then(({ place, storage }) => {
      this.place = place;
      this.reopening = null;
      if (this.closed) place.close();
      if (storage.kind === this.kept.kind) return;
      this.kept = storage;
      this.options.onStorage?.(storage);
    });
    return this.reopening;
  }
}
