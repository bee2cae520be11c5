import { type BoundAddress, bindAddress, type Shared } from "../kept/address/bind.ts";
import type { Problem } from "../kept/problem.ts";
import { type PageState, shippedProblem } from "../kept/state.ts";
import { keepDraft } from "../kept/store/draft-keeper.ts";
import { openStore, type Store } from "../kept/store.ts";
import { tabWord } from "./browser.ts";
import { Line } from "./line.ts";
import { shippedLines } from "./shipped.ts";

export interface KeepingOptions {
  readonly window: Window & typeof globalThis;
  /** The page's name, for its draft. */
  readonly page: string;
  /** The page as it comes: its line and what is looked at. */
  readonly fallback: PageState;
  /** Keys of the view that are a person's work, as changes of the line are; left out: none. */
  readonly arranged?: readonly string[];
  /** All that a person should know of address and storage at present; empty when all is well again. */
  readonly onProblems: (problems: readonly Problem[]) => void;
}

export interface KeptLine {
  readonly line: Line;
  readonly store: Promise<Store>;
  /** Where the page's state was found. */
  readonly from: "address" | "draft" | "start";
  /** What this page had in hand last time, where the address or a late storage put something else in its place; else null. */
  readonly before: Promise<PageState | null>;
  /** Calls back when another tab changed the kept lines; gives what ends it. */
  followOthers(listener: () => void): () => void;
  /** The full address of the present state, or why there is none. */
  share(): Shared;
  /** Writes address and draft at once and follows no more. */
  leave(): void;
}

const shippedNames = shippedLines.map(({ name }) => name);

/** A storage that does not answer must not keep the first picture from the page, ms. */
const PATIENCE_MS = 300;

/**
 * Opens a page's line where it was left: what the address says, else the page's draft, else the page as it comes; from
 * then on address and draft follow it.
 *
 * @example const { line } = await keepLine({ window, page: "hiccup", fallback, onProblems });
 */
export async function keepLine(options: KeepingOptions): Promise<KeptLine> {
  const { window, page, fallback, arranged = [], onProblems } = options;
  const held: { line: Line | null } = { line: null };
  const tell = bySource(onProblems);
  const address = bindAddress({
    location: window.location,
    history: window.history,
    events: window,
    fallback,
    shipped: shippedNames,
    views: Object.keys(fallback.view),
    onChange: ({ state, problems }) => {
      tell("said by the address", problems);
      held.line?.restore(withDefaults(state, fallback), "the address");
    },
    onProblems: (problems) => tell("written into the address", problems),
  });
  tell("said by the address", address.first.problems);

  const others = new Set<() => void>();
  const channel = channelOf(window);
  const store = openStore({
    factory: () => window.indexedDB,
    now: () => Date.now(),
    tab: tabWord(window),
    ...(channel === null ? {} : { channel }),
    onOthers: () => {
      for (const listener of others) listener();
    },
    onStorage: (storage) => tell("storage", storage.kind === "memory" ? [storage.problem] : []),
  });
  const draft = store.then(async (opened) => {
    if (opened.storage.kind === "memory") tell("storage", [opened.storage.problem]);
    const read = await opened.readDraft(page);
    if (read.kind === "problem") tell("draft", [read.problem]);
    if (read.kind !== "read") return null;
    const { line } = read.state;
    // Another version of the pages may have come with other lines.
    const unknown = line.kind === "shipped" ? shippedProblem(line.name, shippedNames) : null;
    if (unknown !== null) tell("draft", [unknown]);
    return unknown === null ? read.state : null;
  });

  const left = address.first.present ? null : await within(draft, PATIENCE_MS);
  const first = address.first.present ? address.first.state : (left ?? fallback);
  const line = new Line(withDefaults(first, fallback), undefined, arranged);
  held.line = line;
  if (left !== null) address.put(line.now.state);
  const endFollowing = follow(line, address, {
    window,
    page,
    store,
    draft,
    channel,
    onProblem: (found) => tell("draft", found === null ? [] : [found]),
  });
  return {
    line,
    store,
    from: address.first.present ? "address" : left === null ? "start" : "draft",
    before: draft.then((state) =>
      state !== null && isWork(state, arranged) && !sameWork(state, first, arranged) ? state : null,
    ),
    followOthers: (listener) => {
      const own = (): void => listener();
      others.add(own);
      return () => others.delete(own);
    },
    share: () => address.share(line.now.state),
    leave: () => {
      endFollowing();
      address.stop();
    },
  };
}

interface Surroundings extends Pick<KeepingOptions, "window" | "page"> {
  readonly store: Promise<Store>;
  readonly draft: Promise<unknown>;
  readonly channel: BroadcastChannel | null;
  readonly onProblem: (problem: Problem | null) => void;
}

function follow(line: Line, address: BoundAddress, surroundings: Surroundings): () => void {
  const { window, page, store, draft, channel, onProblem } = surroundings;
  const ends: (() => void)[] = [];
  let first = true;
  ends.push(
    line.follow(({ state }) => {
      // The state that was just read stands in the address already.
      if (!first) address.put(state);
      first = false;
    }),
  );
  let before = line.now.state;
  let left = false;
  // Only then: an early save would wipe out the draft that is still being read.
  void Promise.all([store, draft]).then(([opened]) => {
    const drafts = keepDraft({ store: opened, page, events: window, onProblem });
    const end = line.follow(({ state }) => {
      if (state !== before) drafts.put(state);
      before = state;
    });
    const close = (): void => {
      end();
      void drafts.stop().then(() => {
        opened.close();
        channel?.close();
      });
    };
    if (left) close();
    else ends.push(close);
  });
  return () => {
    left = true;
    for (const end of ends.splice(0)) end();
  };
}

/** Problems come from several sides; none may wipe out what another told. */
function bySource(
  onProblems: (problems: readonly Problem[]) => void,
): (source: string, problems: readonly Problem[]) => void {
  const told = new Map<string, readonly Problem[]>();
  return (source, problems) => {
    if (problems.length === 0 && (told.get(source) ?? []).length === 0) return;
    told.set(source, problems);
    onProblems([...told.values()].flat());
  };
}

/** How tabs hear of each other; a window without it does alone. */
function channelOf(window: Window & typeof globalThis): BroadcastChannel | null {
  return typeof window.BroadcastChannel === "function" ? new window.BroadcastChannel("railfault") : null;
}

/** Whether somebody would miss it: a text of one's own, something changed or arranged. */
function isWork({ line, changes, view }: PageState, arranged: readonly string[]): boolean {
  return line.kind === "own" || changes.length > 0 || arranged.some((key) => (view[key] ?? "") !== "");
}

function sameWork(a: PageState, b: PageState, arranged: readonly string[]): boolean {
  const workIn = ({ line, changes, view }: PageState): string =>
    JSON.stringify([line, changes, arranged.map((key) => view[key] ?? "")]);
  return workIn(a) === workIn(b);
}

/** What an address leaves out is as the page comes. */
function withDefaults(state: PageState, { view }: PageState): PageState {
  return { ...state, view: { ...view, ...state.view } };
}

async function within<T>(promise: Promise<T | null>, patience_ms: number): Promise<T | null> {
  const timeUp = new Promise<null>((resolve) => setTimeout(() => resolve(null), patience_ms));
  return await Promise.race([promise, timeUp]);
}
