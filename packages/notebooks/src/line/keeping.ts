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
  /** What a person should know of address and storage; empty when all is well again. */
  readonly onProblems: (problems: readonly Problem[]) => void;
}

export interface KeptLine {
  readonly line: Line;
  readonly store: Promise<Store>;
  /** Where the page's state was found. */
  readonly from: "address" | "draft" | "start";
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
export async function keepLine({ window, page, fallback, onProblems }: KeepingOptions): Promise<KeptLine> {
  const held: { line: Line | null } = { line: null };
  const address = bindAddress({
    location: window.location,
    history: window.history,
    events: window,
    fallback,
    shipped: shippedNames,
    views: Object.keys(fallback.view),
    onChange: ({ state, problems }) => {
      onProblems(problems);
      held.line?.restore(withDefaults(state, fallback), "the address");
    },
    onProblems,
  });
  if (address.first.problems.length > 0) onProblems(address.first.problems);

  const store = openStore({
    factory: () => window.indexedDB,
    now: () => Date.now(),
    tab: tabWord(window),
    channel: new window.BroadcastChannel("railfault"),
    onStorage: (storage) => onProblems(storage.kind === "memory" ? [storage.problem] : []),
  });
  const draft = store.then(async (opened) => {
    if (opened.storage.kind === "memory") onProblems([opened.storage.problem]);
    const read = await opened.readDraft(page);
    if (read.kind === "problem") onProblems([read.problem]);
    if (read.kind !== "read") return null;
    const { line } = read.state;
    // Another version of the pages may have come with other lines.
    const unknown = line.kind === "shipped" ? shippedProblem(line.name, shippedNames) : null;
    if (unknown !== null) onProblems([unknown]);
    return unknown === null ? read.state : null;
  });

  const left = address.first.present ? null : await within(draft, PATIENCE_MS);
  const first = address.first.present ? address.first.state : (left ?? fallback);
  const line = new Line(withDefaults(first, fallback));
  held.line = line;
  const endFollowing = follow(line, address, { window, page, store, draft, onProblems });
  return {
    line,
    store,
    from: address.first.present ? "address" : left === null ? "start" : "draft",
    share: () => address.share(line.now.state),
    leave: () => {
      endFollowing();
      address.stop();
    },
  };
}

interface Surroundings extends Pick<KeepingOptions, "window" | "page" | "onProblems"> {
  readonly store: Promise<Store>;
  readonly draft: Promise<unknown>;
}

function follow(line: Line, address: BoundAddress, surroundings: Surroundings): () => void {
  const { window, page, store, draft, onProblems } = surroundings;
  const ends: (() => void)[] = [];
  let first = true;
  ends.push(
    line.follow(({ state }) => {
      // The state that was just read stands in the address already.
      if (!first) address.put(state);
      first = false;
    }),
  );
  // Only then: an early save would wipe out the draft that is still being read.
  void Promise.all([store, draft]).then(([opened]) => {
    const drafts = keepDraft({
      store: opened,
      page,
      events: window,
      onProblem: (problem) => onProblems(problem === null ? [] : [problem]),
    });
    let before = line.now.state;
    ends.push(
      line.follow(({ state }) => {
        if (state !== before) drafts.put(state);
        before = state;
      }),
      () => void drafts.stop().then(() => opened.close()),
    );
  });
  return () => {
    for (const end of ends.splice(0)) end();
  };
}

/** What an address leaves out is as the page comes. */
function withDefaults(state: PageState, { view }: PageState): PageState {
  return { ...state, view: { ...view, ...state.view } };
}

async function within<T>(promise: Promise<T | null>, patience_ms: number): Promise<T | null> {
  const timeUp = new Promise<null>((resolve) => setTimeout(() => resolve(null), patience_ms));
  return await Promise.race([promise, timeUp]);
}
