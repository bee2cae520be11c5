import { runScenario } from "@railfault/sim";
import { describe, expect, it } from "vitest";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { Runs } from "../../../packages/notebooks/src/line/runs.ts";
import { shippedLine } from "../../../packages/notebooks/src/line/shipped.ts";
import type { RunHandlers, Runner } from "../../../packages/notebooks/src/run/runner.ts";

function stage() {
  const begun: string[] = [];
  const texts = new Map<string, string>();
  const handlers = new Map<string, RunHandlers>();
  const runner: Runner = {
    run: (slot, { text }, each) => {
      begun.push(slot);
      texts.set(slot, text);
      handlers.set(slot, each);
    },
    stop: () => {},
    cancel: () => {},
    dispose: () => {},
  };
  const line = new Line({ line: { kind: "shipped", name: "08-charger-creep" }, changes: [], view: {} });
  const other = shippedLine("04-foldback").text;
  const runs = new Runs(
    line,
    [
      { name: "later", label: "later", after: "line", changes: () => [[["title"], "later"]] },
      { name: "line", label: "as it stands" },
      { name: "other", label: "another line", text: other, after: "line" },
    ],
    runner,
  );
  return { begun, texts, handlers, line, other, runs };
}

describe("runs that let another go first", () => {
  it("begin once it has ended, well or not", () => {
    const { begun, handlers } = stage();
    expect(begun).toEqual(["line"]);
    handlers.get("line")?.failed("no thread");
    expect(begun).toEqual(["line", "later", "other"]);
  });

  it("begin with the newest text, and only once", () => {
    const { begun, texts, handlers, line } = stage();
    line.set("trip", [[["crowbar", "trip voltage"], "15.5 V"]]);
    expect(begun).toEqual(["line", "line"]);
    handlers.get("line")?.failed("enough");
    expect(begun).toEqual(["line", "line", "later", "other"]);
    expect(texts.get("later")).toContain("15.5 V");
  });

  it("are still under way where an older one has ended while the newest waits for its turn", () => {
    const { handlers, line, runs } = stage();
    const older = handlers.get("line");
    line.set("trip", [[["crowbar", "trip voltage"], "15.5 V"]]);
    const newest = handlers.get("line");
    const text = runs.now.get("line")?.text ?? "";
    const result = runScenario(text, "x");
    if (result.kind === "refused") throw new Error("refused");
    older?.answer(result);
    // Its picture is drawn meanwhile, but it is not the end.
    expect(runs.now.get("line")).toMatchObject({ status: "running", answer: { kind: "answered" } });
    older?.failed("late");
    expect(runs.now.get("line")?.status).toBe("running");
    newest?.answer(result);
    expect(runs.now.get("line")?.status).toBe("answered");
  });

  it("tell that an answer is of another line, from its opening until the new one is answered", () => {
    const { handlers, line, runs } = stage();
    const answerNow = (): void => {
      const result = runScenario(runs.now.get("line")?.text ?? "", "x");
      if (result.kind === "refused") throw new Error("refused");
      handlers.get("line")?.answer(result);
    };
    answerNow();
    const stale = () => runs.now.get("line")?.stale;
    expect(stale()).toBe(false);
    line.set("trip", [[["crowbar", "trip voltage"], "15.5 V"]]);
    expect(stale()).toBe(false);
    answerNow();
    line.open({ kind: "shipped", name: "09-panel-and-battery" });
    expect([stale(), runs.now.get("line")?.status]).toEqual([true, "running"]);
    answerNow();
    expect(stale()).toBe(false);
    // A line of the scheme's own is no other.
    expect(runs.now.get("other")?.stale).toBe(false);
  });

  it("begin at once when the line's text cannot run", () => {
    const { begun, line, runs } = stage();
    line.set("trip", [[["crowbar", "trip voltage"], "13 V"]]);
    expect(runs.now.get("line")?.status).toBe("refused");
    // What is changed further is read where it is run.
    expect(begun).toEqual(["line", "later", "other"]);
  });

  it("tell what the thread refused beside what the line could not take", () => {
    const { handlers, line, runs } = stage();
    line.set("trip", [[["crowbar", "trip voltage"], "13 V"]]);
    const issue = runs.now.get("line")?.issues[0];
    if (issue === undefined) throw new Error("the line was not refused");
    handlers.get("later")?.refused([issue]);
    expect(runs.now.get("later")).toMatchObject({ status: "refused", issues: [issue] });
  });
});

describe("a run of a line of its own", () => {
  it("is not touched by what changes in the page's line", () => {
    const { begun, texts, handlers, line, other } = stage();
    handlers.get("line")?.failed("enough");
    expect(texts.get("other")).toBe(other);
    begun.length = 0;
    line.set("trip", [[["crowbar", "trip voltage"], "15.5 V"]]);
    handlers.get("line")?.failed("enough");
    expect(begun).toEqual(["line", "later"]);
  });
});

describe("the title of what was run", () => {
  it("says that the line was changed, and no more once it is as it was", () => {
    const { handlers, texts, line, runs } = stage();
    const ended = (name: string) => {
      const result = runScenario(texts.get(name) ?? "", `${name}.yaml`, { until: 120, secondRun: false });
      if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("; "));
      handlers.get(name)?.answer(result);
      const answer = runs.now.get(name)?.answer;
      return [answer?.scenario.title, answer?.run.scenario.title, answer?.verdict.title].map(
        (title) => title ?? "none",
      );
    };
    const same = (title: string) => [title, title, title];
    const [original] = ended("line");
    expect(original).not.toContain("(changed)");
    line.set("trip", [[["crowbar", "trip voltage"], "15.5 V"]]);
    expect(ended("line")).toEqual(same(`${original} (changed)`));
    expect(ended("other")[0]).not.toContain("(changed)");
    line.reset();
    expect(ended("line")).toEqual(same(original));
  });
});
