import { Worker } from "node:worker_threads";
import { afterAll, describe, expect, test } from "vitest";
import type { Answer } from "../../../packages/notebooks/src/run/protocol.ts";
import { createRunner, type RunWorker } from "../../../packages/notebooks/src/run/runner.ts";
import { runScenario } from "../../../packages/sim/src/index.ts";
import { shipped } from "./stage.ts";

const threads: Worker[] = [];

/** A thread of Node's with the face of a browser's worker. */
function thread(): RunWorker {
  const worker = new Worker(new URL("./bootstrap.mjs", import.meta.url));
  threads.push(worker);
  return {
    postMessage: (message) => worker.postMessage(message),
    terminate: () => void worker.terminate(),
    addEventListener: (kind, listener) => {
      worker.on(kind, (found: unknown) => {
        const details = kind === "message" ? { data: found } : { message: found instanceof Error ? found.message : "" };
        listener(Object.assign(new Event(kind), details));
      });
    },
  };
}

const runner = createRunner({ workers: 2, makeWorker: thread });
afterAll(() => runner.dispose());

function ask(slot: string, text: string, more = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    runner.run(
      slot,
      { text, file: "hut.yaml", ...more },
      {
        answer: resolve,
        refused: (issues) => reject(new Error(JSON.stringify(issues))),
        failed: (message) => reject(new Error(message)),
      },
    );
  });
}

describe("in real threads", () => {
  test("the answer is that of the library, waveforms and all", async () => {
    for (const name of ["01-shorted-pass-transistor", "13-gate-kept-on"]) {
      const expected = runScenario(shipped(name), "hut.yaml");
      expect(await ask("line", shipped(name))).toEqual(structuredClone(expected));
    }
  });

  test("a new run cancels the old one without a new thread; slots run side by side", async () => {
    const before = threads.length;
    const hour = shipped("02-hiccup-supply").replace("run for: 10 s", "run for: 1 h");
    let old = 0;
    const ignore = () => {
      old += 1;
    };
    runner.run("line", { text: hour, file: "x" }, { answer: ignore, refused: ignore, failed: ignore });
    const [line, other] = await Promise.all([
      ask("line", shipped("01-shorted-pass-transistor")),
      ask("other", shipped("04-foldback")),
    ]);
    expect([line, other].map(({ verdict }) => verdict.kind)).toEqual(["verdict", "verdict"]);
    expect(old).toBe(0);
    expect(threads.length).toBeLessThanOrEqual(Math.max(2, before + 1));
  });

  test("an hour of hiccup is stopped after its first report, and judged up to there", async () => {
    const hour = shipped("02-hiccup-supply").replace("run for: 10 s", "run for: 1 h");
    const answer = await new Promise<Answer>((resolve, reject) => {
      runner.run(
        "long",
        { text: hour, file: "x" },
        {
          progress: () => runner.stop("long"),
          answer: resolve,
          refused: () => reject(new Error("refused")),
          failed: (message) => reject(new Error(message)),
        },
      );
    });
    expect(answer.run.outcome.status).toBe("stopped");
    expect(answer.scenario.endTime).toBe(3600);
    expect(answer.run.outcome.time).toBeLessThan(3600);
    expect(answer.verdict.warnings.map(({ code }) => code)).toContain("cut-short");
  });

  test("a thread that dies is told of, and the next run has a new one", async () => {
    const failed = ask("line", shipped("02-hiccup-supply").replace("run for: 10 s", "run for: 1 h"));
    const count = threads.length;
    for (const worker of threads) worker.emit("error", new Error("no memory left"));
    await expect(failed).rejects.toThrow(/broke off: no memory left/);
    expect((await ask("line", shipped("04-foldback"))).verdict.kind).toBe("verdict");
    expect(threads.length).toBe(count + 1);
  });
});
