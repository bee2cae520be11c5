import { describe, expect, it } from "vitest";
import { Background, type LaneNow } from "../../../packages/notebooks/src/pages/hiccup/background.ts";
import { settling } from "../../../packages/notebooks/src/pages/hiccup/settling.ts";
import type { RunRequest } from "../../../packages/notebooks/src/run/protocol.ts";
import type { RunHandlers } from "../../../packages/notebooks/src/run/runner.ts";

describe("runs in the background", () => {
  const request: RunRequest = { text: "a", file: "a", record: false };
  const fake = () => {
    const log: string[] = [];
    const open = new Map<string, RunHandlers>();
    const runner = {
      run: (slot: string, { text }: RunRequest, handlers: RunHandlers) => {
        log.push(`run ${slot} ${text}`);
        open.set(slot, handlers);
      },
      stop: (slot: string) => log.push(`stop ${slot}`),
      cancel: (slot: string) => log.push(`cancel ${slot}`),
      dispose: () => log.push("dispose"),
    };
    return { runner, log, open };
  };
  const settled = () => new Promise((resolve) => setTimeout(resolve, 5));

  it("go one after the other, are dropped for others, and are remembered where they are small", async () => {
    const { runner, log, open } = fake();
    const background = new Background(runner, 0);
    const told: LaneNow[] = [];
    const tasks = ["a", "b"].map((text) => ({ name: text, request: () => ({ ...request, text }) }));
    background.ask("lane", "first", tasks, (now) => told.push(now));
    background.ask("lane", "first", tasks, () => told.splice(0));
    await settled();
    expect(log).toEqual(["run lane a"]);
    open.get("lane")?.refused([]);
    expect(log).toEqual(["run lane a", "run lane b"]);
    background.ask("lane", "second", tasks, (now) => told.push(now));
    open.get("lane")?.refused([]);
    await settled();
    // The first is known from before; the answer that came after it was dropped counts for nothing.
    expect(log).toEqual(["run lane a", "run lane b", "cancel lane", "run lane b"]);
    open.get("lane")?.failed("broken");
    expect(told.at(-1)).toMatchObject({ busy: false, progress: null });
    expect([...(told.at(-1)?.found.entries() ?? [])].map(([name, { kind }]) => [name, kind])).toEqual([
      ["a", "refused"],
      ["b", "failed"],
    ]);
    background.leave();
    expect(log.slice(-2)).toEqual(["cancel lane", "dispose"]);
  });

  it("let go first what goes first, before each of them", async () => {
    const { runner, log, open } = fake();
    const first = settling();
    const background = new Background(runner, 0, first.wait);
    const tasks = ["a", "b"].map((text) => ({ name: text, request: () => ({ ...request, text }) }));
    background.ask("lane", "key", tasks, () => {});
    await settled();
    expect(log).toEqual([]);
    const seen = first.now();
    first.busy();
    // The end that was seen before the new start counts for nothing.
    first.settled(seen);
    await settled();
    expect(log).toEqual([]);
    first.settled(first.now());
    await settled();
    expect(log).toEqual(["run lane a"]);
    first.busy();
    open.get("lane")?.refused([]);
    await settled();
    expect(log).toEqual(["run lane a"]);
    first.settled(first.now());
    await settled();
    expect(log).toEqual(["run lane a", "run lane b"]);
    background.leave();
  });

  it("pass over what cannot be run", async () => {
    const { runner, log } = fake();
    const background = new Background(runner, 0);
    let last: LaneNow | null = null;
    background.ask("lane", "key", [{ name: "none", request: () => null }], (now) => {
      last = now;
    });
    await settled();
    expect(log).toEqual([]);
    expect(last).toMatchObject({ busy: false });
  });
});
