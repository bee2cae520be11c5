import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { CompareRefused, Comparison } from "@railfault/sim";
import { expect, test } from "vitest";
import {
  type CompareHandlers,
  type CompareWorker,
  createComparer,
} from "../../../packages/notebooks/src/run/comparer.ts";
import { Comparisons } from "../../../packages/notebooks/src/run/comparisons.ts";
import { root } from "../../ground/files.ts";

const shipped = readFileSync(join(root, "packages/sim/scenarios/28-schemes-side-by-side.yaml"), "utf8");

/** A worker whose turns come when they are asked for; each slice is over at once. */
function byHand() {
  const turns: (() => void)[] = [];
  let clock = 0;
  let ended = 0;
  const listeners = new Map<string, ((event: Event) => void)[]>();
  const tell = (kind: string, event: unknown): void => {
    for (const each of listeners.get(kind) ?? []) each(event as Event);
  };
  const comparisons = new Comparisons({
    post: (data) => tell("message", { data: structuredClone(data) }),
    now: () => (clock += 100),
    later: (task) => turns.push(task),
  });
  const worker: CompareWorker = {
    postMessage: (message) => comparisons.take(message),
    terminate: () => {
      ended += 1;
    },
    addEventListener: (kind, listener) => listeners.set(kind, [...(listeners.get(kind) ?? []), listener]),
  };
  const turn = (most = Number.POSITIVE_INFINITY): number => {
    let taken = 0;
    for (let next = turns.shift(); next !== undefined; next = taken < most ? turns.shift() : undefined) {
      next();
      taken += 1;
    }
    return taken;
  };
  return { worker, turn, tell, ended: () => ended };
}

function listening() {
  const heard = { names: [] as string[], found: [] as (Comparison | CompareRefused)[], failed: [] as string[] };
  const handlers: CompareHandlers = {
    progress: ({ name }) => heard.names.push(name),
    found: (of) => heard.found.push(of),
    failed: (message) => heard.failed.push(message),
  };
  return { heard, handlers };
}

test("a comparison comes in many slices, tells which line is at hand, and keeps its waveforms", () => {
  const { worker, turn } = byHand();
  const { heard, handlers } = listening();
  createComparer(() => worker).ask(shipped, "28.yaml", handlers);
  expect(turn()).toBeGreaterThan(9);
  expect(heard.names.slice(0, 2)).toEqual(["as it stands", "nothing"]);
  const [found] = heard.found;
  if (found?.kind !== "compared") throw new Error("nothing was compared");
  expect(found.rows).toHaveLength(9);
  expect(found.runs.get("relay")?.run.trace.time.length).toBeGreaterThan(100);
});

test("stopped, it tells what has been run; another question takes the place of the one before", () => {
  const { worker, turn } = byHand();
  const comparer = createComparer(() => worker);
  const [first, second, third] = [listening(), listening(), listening()];
  comparer.ask(shipped, "28.yaml", first.handlers);
  turn(3);
  comparer.ask(shipped, "28.yaml", second.handlers);
  while (!second.heard.names.includes("clamp")) turn(1);
  comparer.stop();
  turn();
  expect(first.heard.found).toEqual([]);
  const [found] = second.heard.found;
  expect(found).toMatchObject({ kind: "compared", stopped: true });
  if (found?.kind !== "compared") return;
  expect(found.rows.filter(({ kind }) => kind === "judged").map(({ name }) => name)).toEqual([
    "as it stands",
    "nothing",
  ]);
  comparer.ask("title: [", "bad.yaml", third.handlers);
  turn();
  expect(third.heard.found).toMatchObject([{ kind: "refused" }]);
});

test("variants that are no line are left out with the reason, not refused; a worker that breaks down says so once", () => {
  const { worker, turn, tell, ended } = byHand();
  const comparer = createComparer(() => worker);
  const { heard, handlers } = listening();
  comparer.ask(shipped.replace("crowbar: SCR 12 A", "crowbar: {trip voltage: 15.0 V}"), "28.yaml", handlers);
  turn();
  expect(heard.found).toMatchObject([
    { kind: "compared", leftOut: [{ name: "small SCR", why: "It comes to the line as it stands." }] },
  ]);
  comparer.ask(shipped, "28.yaml", handlers);
  tell("error", { message: "out of memory" });
  tell("error", { message: "out of memory" });
  expect([heard.failed, ended()]).toEqual([["out of memory"], 1]);
});
