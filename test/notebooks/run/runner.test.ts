import { describe, expect, test, vi } from "vitest";
import { createRunner } from "../../../packages/notebooks/src/run/runner.ts";
import { FakeWorker, shipped, witness } from "./stage.ts";

const shorted = { text: shipped("01-shorted-pass-transistor"), file: "hut.yaml" };
const hiccup = { text: shipped("02-hiccup-supply"), file: "hut.yaml" };

function stageOf(workers: number) {
  const made: FakeWorker[] = [];
  const runner = createRunner({
    workers,
    makeWorker: () => {
      const worker = new FakeWorker();
      made.push(worker);
      return worker;
    },
  });
  return { runner, made };
}

test("threads are started when they are needed, and each slot stays with its own", () => {
  const { runner, made } = stageOf(2);
  expect(made).toHaveLength(0);
  const all = witness();
  for (const slot of ["a", "b", "c", "a", "c", "b"]) runner.run(slot, shorted, all);
  expect(made.map(({ received }) => received.map(({ slot }) => slot).join(""))).toEqual(["acac", "bb"]);
  for (const worker of made) worker.work();
  // One answer a slot: the first run of each made way for the second.
  expect(all.told.map(({ kind }) => kind)).toEqual(["answer", "answer", "answer"]);
});

test("of a run that was replaced or cancelled nothing more is told, even if its answer is on the way", () => {
  const { runner, made } = stageOf(1);
  const [first, second, third] = [witness(), witness(), witness()];
  runner.run("line", shorted, first);
  made[0].stage.finish();
  // The answer is sent but not delivered yet.
  runner.run("line", { ...shorted, until: 0.1 }, second);
  made[0].deliver();
  expect(first.told).toEqual([]);
  made[0].work();
  expect(second.told).toMatchObject([{ kind: "answer", what: { run: { scenario: { endTime: 0.1 } } } }]);
  runner.run("line", hiccup, third);
  runner.cancel("line");
  made[0].work();
  expect(third.told).toEqual([]);
  expect(made).toHaveLength(1);
  expect(made[0].isTerminated).toBe(false);
});

test("progress, stop and the answer of a stopped run", () => {
  const { runner, made } = stageOf(1);
  const line = witness();
  runner.run("line", hiccup, line);
  const [worker] = made;
  while (line.told.length < 2 && worker.stage.turn()) worker.deliver();
  expect(line.told.map(({ kind }) => kind)).toEqual(["progress", "progress"]);
  runner.stop("line");
  worker.deliver();
  expect(line.told.at(-1)).toMatchObject({ kind: "answer", what: { run: { outcome: { status: "stopped" } } } });
  const told = line.told.length;
  runner.stop("line");
  runner.stop("no such slot");
  worker.work();
  expect(line.told).toHaveLength(told);
});

test("a refused file is told with its issues", () => {
  const { runner, made } = stageOf(1);
  const line = witness();
  runner.run("line", { text: "title: <script>alert(1)</script>\nlodas: []\n", file: "<b>" }, line);
  made[0].work();
  expect(line.told).toMatchObject([{ kind: "refused" }]);
  expect(JSON.stringify(line.told)).toContain("unknown-key");
});

test("of a text of 50 MB only as much is handed over as it takes to refuse it", () => {
  const { runner, made } = stageOf(1);
  const line = witness();
  runner.run("line", { text: "a: 1\n".repeat(1e7), file: "x" }, line);
  const [message] = made[0].received;
  expect(message.kind === "run" && message.request.text.length).toBeLessThan(300_000);
  made[0].work();
  expect(line.told).toMatchObject([{ kind: "refused", what: [{ code: "too-large" }] }]);
});

describe("a crash", () => {
  test.each(["error", "messageerror"])(
    "(%s) is told to every run of that thread, and the next run has a new one",
    (kind) => {
      const { runner, made } = stageOf(2);
      const [a, b, c] = [witness(), witness(), witness()];
      runner.run("a", hiccup, a);
      runner.run("b", hiccup, b);
      runner.run("c", hiccup, c);
      made[0].tell(kind, { message: "out of memory" });
      expect(made[0].isTerminated).toBe(true);
      for (const hurt of [a, c])
        expect(hurt.told).toMatchObject([{ kind: "failed", what: expect.stringMatching(/broke off: out of memory/) }]);
      expect(b.told).toEqual([]);
      // What the dead one still sends is of no interest, nor is its second complaint.
      made[0].work();
      made[0].tell("error", {});
      expect(a.told).toHaveLength(1);
      runner.run("a", shorted, a);
      expect(made).toHaveLength(3);
      made[2].work();
      expect(a.told.at(-1)?.kind).toBe("answer");
      made[1].work();
      expect(b.told.at(-1)?.kind).toBe("answer");
    },
  );

  test("a thread that cannot be made is told too, later, and once", async () => {
    const makeWorker = vi.fn(() => {
      throw new Error("forbidden here");
    });
    const runner = createRunner({ workers: 1, makeWorker });
    const line = witness();
    runner.run("line", shorted, line);
    expect(line.told).toEqual([]);
    await Promise.resolve();
    expect(line.told).toEqual([{ kind: "failed", what: "The computation could not be started: forbidden here" }]);
    runner.stop("line");
    runner.cancel("line");
    expect(makeWorker).toHaveBeenCalledTimes(1);
  });
});

test("disposed of, it ends its threads, tells nothing more and takes nothing on", () => {
  const { runner, made } = stageOf(2);
  const line = witness();
  runner.run("a", hiccup, line);
  runner.run("b", hiccup, line);
  runner.dispose();
  expect(made.every(({ isTerminated }) => isTerminated)).toBe(true);
  for (const worker of made) worker.work();
  expect(line.told).toEqual([]);
  expect(() => runner.run("a", hiccup, line)).toThrow(/disposed/);
});

test.each([0, 1.5, -1, Number.NaN])("%s threads are refused", (workers) => {
  expect(() => createRunner({ workers, makeWorker: () => new FakeWorker() })).toThrow(RangeError);
});
