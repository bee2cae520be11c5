import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { patientRunner } from "../../../packages/notebooks/src/line/patient-runner.ts";
import type { RunHandlers, Runner } from "../../../packages/notebooks/src/run/runner.ts";

interface Recorded {
  readonly begun: string[];
  readonly calls: string[];
  handlers: RunHandlers | null;
  readonly runner: Runner;
}

function recorder(): Recorded {
  const recorded: Recorded = {
    begun: [],
    calls: [],
    handlers: null,
    runner: {
      run: (_, request, handlers) => {
        recorded.begun.push(request.text);
        recorded.handlers = handlers;
      },
      stop: (slot) => recorded.calls.push(`stop ${slot}`),
      cancel: (slot) => recorded.calls.push(`cancel ${slot}`),
      dispose: () => recorded.calls.push("dispose"),
    },
  };
  return recorded;
}

const request = (text: string) => ({ text, file: "line.yaml" });

describe("a runner for sliders in motion", () => {
  beforeEach(() => vi.useFakeTimers());
  afterEach(() => vi.useRealTimers());

  const make = () => {
    const recorded = recorder();
    const told: string[] = [];
    const handlers = (name: string): RunHandlers => ({
      answer: () => told.push(`${name} answered`),
      refused: () => told.push(`${name} refused`),
      failed: (message) => told.push(`${name} failed: ${message}`),
    });
    return { recorded, told, handlers, runner: patientRunner(recorded.runner, () => Date.now()) };
  };

  test("lets a short run finish, then runs only the newest position", () => {
    const { recorded, told, handlers, runner } = make();
    runner.run("line", request("1"), handlers("1"));
    for (const text of ["2", "3", "4"]) {
      vi.advanceTimersByTime(16);
      runner.run("line", request(text), handlers(text));
    }
    expect(recorded.begun).toEqual(["1"]);
    recorded.handlers?.failed("x");
    expect(told).toEqual(["1 failed: x"]);
    expect(recorded.begun).toEqual(["1", "4"]);
    recorded.handlers?.refused([]);
    expect(told).toEqual(["1 failed: x", "4 refused"]);
    vi.advanceTimersByTime(1000);
    expect(recorded.begun).toEqual(["1", "4"]);
  });

  test("replaces a long run after its patience, at once when that is over", () => {
    const { recorded, handlers, runner } = make();
    runner.run("line", request("1"), handlers("1"));
    vi.advanceTimersByTime(50);
    runner.run("line", request("2"), handlers("2"));
    vi.advanceTimersByTime(69);
    expect(recorded.begun).toEqual(["1"]);
    vi.advanceTimersByTime(1);
    expect(recorded.begun).toEqual(["1", "2"]);
    vi.advanceTimersByTime(120);
    runner.run("line", request("3"), handlers("3"));
    expect(recorded.begun).toEqual(["1", "2", "3"]);
  });

  test("keeps slots apart", () => {
    const { recorded, handlers, runner } = make();
    runner.run("a", request("a1"), handlers("a1"));
    runner.run("b", request("b1"), handlers("b1"));
    expect(recorded.begun).toEqual(["a1", "b1"]);
  });

  test("forgets what waits when the run is cancelled or everything is disposed of", () => {
    const { recorded, handlers, runner } = make();
    runner.run("line", request("1"), handlers("1"));
    runner.run("line", request("2"), handlers("2"));
    runner.cancel("line");
    runner.run("other", request("3"), handlers("3"));
    runner.run("other", request("4"), handlers("4"));
    runner.dispose();
    vi.advanceTimersByTime(1000);
    expect(recorded.begun).toEqual(["1", "3"]);
    expect(recorded.calls).toEqual(["cancel line", "dispose"]);
  });

  test("a stop means the newest position", () => {
    const { recorded, handlers, runner } = make();
    runner.run("line", request("1"), handlers("1"));
    runner.run("line", request("2"), handlers("2"));
    runner.stop("line");
    expect(recorded.begun).toEqual(["1", "2"]);
    expect(recorded.calls).toEqual(["stop line"]);
  });
});
