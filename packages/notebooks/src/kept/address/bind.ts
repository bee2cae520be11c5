import { type AddressRules, type Decoded, decodeAddress, type Encoded, encodeAddress } from "../address.ts";
import { type Problem, problem } from "../problem.ts";
import type { PageState } from "../state.ts";
import { systemTimers, type Timers } from "../timers.ts";

const DELAY_MS = 250;
const LEAVING = ["beforeunload", "pagehide"] as const;

/** What the binding needs of a window. */
export interface AddressSurroundings {
  readonly location: Pick<Location, "href" | "hash">;
  readonly history: Pick<History, "replaceState" | "state">;
  /** Where `hashchange`, `beforeunload` and `pagehide` are heard: the window. */
  readonly events: Pick<EventTarget, "addEventListener" | "removeEventListener">;
  readonly timers?: Timers;
}

export interface AddressOptions extends AddressSurroundings, AddressRules {
  /** The address was changed by somebody else: a link, the back button, the reader's own hand. */
  readonly onChange: (decoded: Decoded) => void;
  /** Why the address cannot follow the page at the moment; empty when it does again. Told once each time it changes. */
  readonly onProblems?: (problems: readonly Problem[]) => void;
}

/** A page's address that follows its state. */
export interface BoundAddress {
  /** What the address said when it was bound. */
  readonly first: Decoded;
  /** Writes a state into the address, 250 ms after the last call; the back button gets no steps of it. */
  put(state: PageState): void;
  /** Writes at once what still waits. */
  flush(): void;
  /** The full address of a state to pass on, or why there is none. */
  share(state: PageState): Shared;
  /** Writes what waits and hears no more. */
  stop(): void;
}

/** A full address, or why there is none. */
export type Shared =
  | { readonly kind: "address"; readonly address: string }
  | Exclude<Encoded, { readonly kind: "address" }>;

/**
 * Binds a page's state to its address. A state equal to the fallback leaves the address bare; one that no address can
 * hold takes the old one away, since it would show something else after a reload.
 *
 * @example
 * const address = bindAddress({ location, history, events: window, fallback, shipped, views: ["zoom"], onChange: show });
 * show(address.first);
 * address.put(state);
 */
export function bindAddress(options: AddressOptions): BoundAddress {
  const { location, history, events, fallback } = options;
  const timers = options.timers ?? systemTimers;
  let waiting: { readonly state: PageState; readonly timer: unknown } | null = null;
  let told: readonly Problem[] = [];
  // What is empty, and empty as the page comes, is not worth a word.
  const encode = (state: PageState): Encoded => {
    const said = Object.entries(state.view).filter(([key, value]) => value !== "" || (fallback.view[key] ?? "") !== "");
    return encodeAddress({ ...state, view: Object.fromEntries(said) });
  };
  const bare = hashOf(encode(fallback));

  const tell = (problems: readonly Problem[]): void => {
    const codes = (list: readonly Problem[]): string => list.map(({ code, where }) => `${code} ${where}`).join("\n");
    if (codes(problems) === codes(told)) return;
    told = problems;
    options.onProblems?.(problems);
  };

  const drop = (): PageState | null => {
    const dropped = waiting;
    waiting = null;
    if (dropped !== null) timers.clear(dropped.timer);
    return dropped?.state ?? null;
  };

  const write = (state: PageState): void => {
    const encoded = encode(state);
    const hash = hashOf(encoded);
    const wanted = hash === bare ? "" : hash;
    // The mark of a place in the page may stay where no state stands.
    const settled = wanted === "" && !decodeAddress(location.hash, options).present;
    const target = withHash(location.href, wanted);
    try {
      if (!settled && target !== location.href) history.replaceState(history.state, "", target);
      tell(problemsOf(encoded));
    } catch (error) {
      tell([problem("address-refused", "address", "The browser does not let the address follow.", said(error))]);
    }
  };

  const flush = (): void => {
    const state = drop();
    if (state !== null) write(state);
  };

  const heard = (): void => {
    const decoded = decodeAddress(location.hash, options);
    // The mark of a place in the page only scrolls; the state stays.
    if (!decoded.present && location.hash.length > 1) return;
    drop();
    options.onChange(decoded);
  };

  events.addEventListener("hashchange", heard);
  // A reload takes the address as it stands when it begins: `pagehide` is too late for that.
  for (const leaving of LEAVING) events.addEventListener(leaving, flush);
  return {
    first: decodeAddress(location.hash, options),
    put: (state) => {
      drop();
      waiting = { state, timer: timers.set(flush, DELAY_MS) };
    },
    flush,
    share: (state) => {
      const encoded = encode(state);
      if (encoded.kind !== "address") return encoded;
      return { kind: "address", address: withHash(location.href, encoded.hash) };
    },
    stop: () => {
      flush();
      events.removeEventListener("hashchange", heard);
      for (const leaving of LEAVING) events.removeEventListener(leaving, flush);
    },
  };
}

function hashOf(encoded: Encoded): string {
  return encoded.kind === "address" ? encoded.hash : "";
}

function problemsOf(encoded: Encoded): readonly Problem[] {
  if (encoded.kind === "address") return [];
  return encoded.kind === "unfit" ? encoded.problems : [encoded.problem];
}

function withHash(href: string, hash: string): string {
  const mark = href.indexOf("#");
  return (mark < 0 ? href : href.slice(0, mark)) + hash;
}

function said(error: unknown): { received: string } {
  return { received: error instanceof Error ? error.message : String(error) };
}
