import { describe, expect, test } from "vitest";
import { type AddressOptions, bindAddress } from "../../../packages/notebooks/src/kept/address/bind.ts";
import type { Decoded } from "../../../packages/notebooks/src/kept/address.ts";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { HandTimers } from "./fixtures.ts";
import { fallback, rules } from "./random-states.ts";

const PAGE = "http://localhost:4173/a/regulator-fails.html?x=1";

/** A window's address bar: replacing is not heard, following a link is. */
class AddressBar {
  readonly events = new EventTarget();
  readonly replaced: string[] = [];
  href: string;
  refuses = false;

  constructor(hash: string) {
    this.href = PAGE + hash;
  }

  readonly location = {
    bar: this,
    get href(): string {
      return this.bar.href;
    },
    get hash(): string {
      return new URL(this.bar.href).hash;
    },
  };

  readonly history = {
    state: { kept: true },
    replaceState: (state: unknown, _: string, url?: string | URL | null) => {
      if (this.refuses) throw new DOMException("Too many calls", "SecurityError");
      expect(state).toEqual({ kept: true });
      this.href = new URL(String(url), this.href).href;
      this.replaced.push(this.href.slice(PAGE.length));
    },
  };

  follow(hash: string): void {
    this.href = PAGE + hash;
    this.events.dispatchEvent(new Event("hashchange"));
  }
}

function bound(hash = "", more: Partial<AddressOptions> = {}) {
  const bar = new AddressBar(hash);
  const timers = new HandTimers();
  const changes: Decoded[] = [];
  const told: string[][] = [];
  const address = bindAddress({
    ...rules,
    location: bar.location,
    history: bar.history,
    events: bar.events,
    timers,
    onChange: (decoded) => changes.push(decoded),
    onProblems: (problems) => told.push(problems.map(({ code }) => code)),
    ...more,
  });
  return { bar, timers, changes, told, address };
}

function fused(rating: string): PageState {
  return { ...fallback, changes: [[["main fuse"], `blade fuse ${rating}`]] };
}
const HASH_15 = "#v=1&line=01-shorted-pass-transistor&set.main+fuse=blade+fuse+15+A&view.zoom=all";

describe("an address that follows its page", () => {
  test("reads its state first", () => {
    expect(bound(HASH_15).address.first).toEqual({ state: fused("15 A"), problems: [], present: true });
    expect(bound("").address.first).toEqual({ state: fallback, problems: [], present: false });
  });

  test("is written once, 250 ms after the last of many changes, without a step for the back button", () => {
    const { bar, timers, address, changes } = bound();
    for (const rating of ["5 A", "10 A", "15 A"]) {
      address.put(fused(rating));
      timers.pass(249);
    }
    expect(bar.replaced).toEqual([]);
    timers.pass(1);
    expect(bar.replaced).toEqual([HASH_15]);
    address.put(fused("15 A"));
    timers.pass(250);
    expect([bar.replaced.length, changes.length, timers.count]).toEqual([1, 0, 0]);
  });

  test("is bare again when the page stands as it began", () => {
    const { bar, timers, address } = bound(HASH_15);
    address.put(fallback);
    timers.pass(250);
    expect(bar.href).toBe(PAGE);
  });

  test("leaves the mark of a place in the page alone until there is something to say", () => {
    const { bar, timers, address, changes } = bound("#what-next");
    address.put(fallback);
    timers.pass(250);
    bar.follow("#sources");
    expect([bar.replaced, changes]).toEqual([[], []]);
    address.put(fused("15 A"));
    timers.pass(250);
    expect(bar.replaced).toEqual([HASH_15]);
  });

  test("tells of a link or the back button, and forgets what it was about to write", () => {
    const { bar, timers, address, changes } = bound();
    address.put(fused("5 A"));
    bar.follow(HASH_15);
    timers.pass(1000);
    expect(changes).toEqual([{ state: fused("15 A"), problems: [], present: true }]);
    expect([bar.replaced, bar.href]).toEqual([[], PAGE + HASH_15]);
    bar.follow("#v=9");
    expect(changes[1].problems.map(({ code }) => code)).toEqual(["wrong-version"]);
    bar.follow("");
    expect(changes[2]).toEqual({ state: fallback, problems: [], present: false });
  });

  test("is written before the page goes", () => {
    const { bar, address } = bound();
    address.put(fused("15 A"));
    bar.events.dispatchEvent(new Event("pagehide"));
    expect(bar.replaced).toEqual([HASH_15]);
  });

  test("says once that a state is too long, takes the old one away, and says when it fits again", () => {
    const { bar, timers, address, told } = bound(HASH_15);
    for (const length of [9000, 9001]) {
      address.put({ ...fallback, changes: [[["title"], "x".repeat(length)]] });
      timers.pass(250);
    }
    expect([bar.href, told]).toEqual([PAGE, [["too-long"]]]);
    address.put(fused("15 A"));
    timers.pass(250);
    expect([bar.href, told]).toEqual([PAGE + HASH_15, [["too-long"], []]]);
  });

  test("says what no address can hold", () => {
    const { timers, address, told } = bound();
    address.put({ ...fallback, line: { kind: "own", name: "a\0", text: "\ud800" } });
    timers.pass(250);
    expect(told).toEqual([["name-invisible"]]);
  });

  test("survives a browser that refuses", () => {
    const { bar, timers, address, told } = bound();
    bar.refuses = true;
    address.put(fused("15 A"));
    timers.pass(250);
    expect([told, bar.href]).toEqual([[["address-refused"]], PAGE]);
    bar.refuses = false;
    address.put(fused("15 A"));
    timers.pass(250);
    expect([told.at(-1), bar.href]).toEqual([[], PAGE + HASH_15]);
  });

  test("can be passed on whole, also of the state the page begins with", () => {
    const { address, bar } = bound();
    expect(address.share(fused("15 A"))).toEqual({ kind: "address", address: PAGE + HASH_15 });
    const begun = address.share(fallback);
    expect(begun).toEqual({ kind: "address", address: `${PAGE}#v=1&line=01-shorted-pass-transistor&view.zoom=all` });
    // Empty as the page comes is not worth a word; empty where it comes with something is.
    const views = ({ zoom, more }: Record<string, string>) => address.share({ ...fallback, view: { zoom, more } });
    expect(views({ zoom: "all", more: "" })).toEqual(begun);
    expect(views({ zoom: "", more: "" })).toMatchObject({ address: expect.stringMatching(/&view\.zoom=$/) });
    expect(address.share({ ...fallback, view: { zoom: "\0" } })).toMatchObject({ kind: "unfit" });
    expect(bar.replaced).toEqual([]);
  });

  test("writes what waits when it is let go, and hears no more", () => {
    const { bar, timers, address, changes } = bound();
    address.put(fused("15 A"));
    address.stop();
    bar.follow("");
    expect([bar.replaced, changes, timers.count]).toEqual([[HASH_15], [], 0]);
  });
});
