import { describe, expect, test } from "vitest";
import type { Answer, FromWorker } from "../../../packages/notebooks/src/run/protocol.ts";
import { runScenario } from "../../../packages/sim/src/index.ts";
import { Stage, shipped } from "./stage.ts";

const shorted = shipped("01-shorted-pass-transistor");
const hiccup = shipped("02-hiccup-supply");

const request = (text: string, more = {}) => ({ text, file: "hut.yaml", ...more });

function answerOf(message: FromWorker | undefined): Answer {
  if (message?.kind !== "answer") throw new Error(`no answer but ${message?.kind}`);
  return message.answer;
}

test("a run gives what it gives without any thread, as data that can be handed over", () => {
  for (const name of [
    "01-shorted-pass-transistor",
    "08-charger-creep",
    "14-crowbar-with-disconnect",
    "19-hot-plug-from-dead",
  ]) {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(shipped(name)) });
    stage.finish();
    const answer = answerOf(stage.sent.at(-1));
    const expected = runScenario(shipped(name), "hut.yaml");
    expect(answer).toEqual(structuredClone(expected));
    expect(answer.parsed.fits.length).toBeGreaterThan(0);
    expect(answer.run.trace.time.length).toBeGreaterThan(100);
  }
});

test("the waveforms are handed over, not copied", () => {
  const stage = new Stage();
  const buffers: Transferable[] = [];
  const jobs = new (stage.jobs.constructor as typeof import("../../../packages/notebooks/src/run/jobs.ts").Jobs)({
    post: (message, transfer) => {
      buffers.push(...transfer);
      if (message.kind === "answer") {
        const { time, columns } = message.answer.run.trace;
        expect(new Set(transfer)).toEqual(
          new Set([time, ...columns.map(({ values }) => values)].map(({ buffer }) => buffer)),
        );
      }
    },
    now: () => 0,
    later: (task) => task(),
  });
  jobs.take({ kind: "run", slot: "a", id: 1, request: request(shorted) });
  expect(buffers.length).toBeGreaterThan(10);
});

describe("turns", () => {
  test("a slice is so many steps, and ends where the clock says", () => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup) });
    let slices = 0;
    let most = 0;
    for (let looks = stage.looks; stage.turn(); looks = stage.looks) {
      slices += 1;
      most = Math.max(most, stage.looks - looks);
    }
    // 6100 steps of the run by 25 between looks at the clock, and as many of the second run if there is one.
    const steps = answerOf(stage.sent.at(-1)).run.work.steps;
    expect(slices).toBeGreaterThan(steps / 25 / 9);
    // Eight looks of a millisecond each, and those of beginning and telling.
    expect(most).toBeLessThanOrEqual(11);
  });

  test("several slots share the thread, a slice each, and a short run need not wait for a long one", () => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "long", id: 1, request: request(hiccup) });
    stage.jobs.take({ kind: "run", slot: "short", id: 2, request: request(shorted) });
    stage.jobs.take({ kind: "run", slot: "other", id: 3, request: request(hiccup) });
    stage.finish();
    const order = stage.sent.filter(({ kind }) => kind === "answer").map(({ slot }) => slot);
    expect(order).toEqual(["short", "long", "other"]);
  });

  test("a new run of a slot takes the place of the old one at once: no step of that is made any more", () => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup) });
    for (let turns = 0; turns < 3; turns++) stage.turn();
    stage.jobs.take({ kind: "run", slot: "line", id: 2, request: request(shorted) });
    stage.finish();
    const alone = new Stage();
    alone.jobs.take({ kind: "run", slot: "line", id: 2, request: request(shorted) });
    alone.finish();
    expect(stage.sent.filter(({ kind }) => kind !== "progress").map(({ id }) => id)).toEqual([2]);
    // Every 25 steps cost one look: three slices of the old run, and then only the new one's.
    expect(stage.looks - alone.looks).toBeLessThanOrEqual(3 * 11 + 1);
  });

  test("a cancelled run ends at once and tells nothing; the thread then rests", () => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup) });
    stage.turn();
    stage.jobs.take({ kind: "cancel", slot: "line", id: 1 });
    const looks = stage.looks;
    stage.turn();
    expect(stage.turn()).toBe(false);
    expect(stage.looks).toBe(looks);
    expect(stage.sent).toEqual([]);
  });

  test("what is said of a run that has made way for another touches neither", () => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup) });
    stage.jobs.take({ kind: "run", slot: "line", id: 2, request: request(shorted) });
    stage.jobs.take({ kind: "cancel", slot: "line", id: 1 });
    stage.jobs.take({ kind: "stop", slot: "line", id: 1 });
    stage.jobs.take({ kind: "stop", slot: "nobody", id: 9 });
    stage.finish();
    expect(stage.sent.map(({ kind, id }) => `${kind} ${id}`)).toEqual(["answer 2"]);
  });
});

test("progress is told now and then, never backwards within a run, and not for short runs", () => {
  const stage = new Stage();
  stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup, { secondRun: false }) });
  stage.finish();
  const told = stage.of("progress").map((message) => (message.kind === "progress" ? [message.time, message.end] : []));
  expect(told.length).toBeGreaterThan(1);
  expect(
    told.every(
      ([time, end], index) => end === 10 && time > 0 && time < end && (index === 0 || time > told[index - 1][0]),
    ),
  ).toBe(true);
  // Not more often than every hundred milliseconds of this clock.
  expect(told.length).toBeLessThanOrEqual(stage.looks / 100);
  const short = new Stage();
  short.jobs.take({ kind: "run", slot: "line", id: 1, request: request(shorted) });
  short.finish();
  expect(short.of("progress")).toEqual([]);
});

test("stopped, a run answers with what it has found so far; before its fault, with no verdict", () => {
  const stage = new Stage();
  stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup) });
  for (let turns = 0; turns < 6; turns++) stage.turn();
  stage.jobs.take({ kind: "stop", slot: "line", id: 1 });
  const answer = answerOf(stage.sent.at(-1));
  expect(answer.run.outcome.status).toBe("stopped");
  expect(answer.run.outcome.time).toBeGreaterThan(0.02);
  expect(answer.verdict.warnings.map(({ code }) => code)).toContain("cut-short");
  stage.jobs.take({ kind: "run", slot: "line", id: 2, request: request(hiccup) });
  stage.jobs.take({ kind: "stop", slot: "line", id: 2 });
  expect(answerOf(stage.sent.at(-1)).verdict.kind).toBe("not a verdict");
  stage.finish();
  expect(stage.of("answer")).toHaveLength(2);
});

test("no more rows are handed over than asked for, and the answer says how many there were", () => {
  const stage = new Stage();
  stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(hiccup, { rows: 1000 }) });
  stage.jobs.take({ kind: "run", slot: "held", id: 2, request: request(hiccup, { record: { most: 2000 } }) });
  stage.jobs.take({ kind: "run", slot: "none", id: 3, request: request(hiccup, { record: false }) });
  stage.finish();
  const [line, held, none] = ["line", "held", "none"].map((slot) => answerOf(stage.of("answer", slot)[0]).run.trace);
  const rows = runScenario(hiccup, "x");
  const all = rows.kind === "answered" ? rows.run.trace.time.length : 0;
  expect(line.time.length).toBeLessThanOrEqual(1000);
  expect(line.thinned?.from).toBe(all);
  expect(held.time.length).toBeLessThanOrEqual(2000);
  expect(held.thinned?.from).toBe(all);
  expect(none.time.length).toBe(0);
});

describe("bad input", () => {
  test.each([
    ["no scenario", "title: x\n", "missing"],
    ["no YAML", "a: [", "yaml-syntax"],
    ["a huge text", "x".repeat(5e7), "too-large"],
    ["only line breaks", "\n".repeat(3e6), "too-large"],
    ["deep nesting", "[".repeat(20_000), "too-deep"],
    ["an invisible character", "title: \u202e\n", "bidi-character"],
  ])("%s is refused as anywhere else", (_, text, code) => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "line", id: 1, request: request(text) });
    // Refused in its first slice, without a step.
    expect(stage.turn()).toBe(true);
    expect(stage.turn()).toBe(false);
    const [message] = stage.sent;
    expect(message.kind === "refused" && message.issues.map((issue) => issue.code)).toContain(code);
  });

  test("a mistake in the request is told, and hurts no other slot", () => {
    const stage = new Stage();
    stage.jobs.take({ kind: "run", slot: "bad", id: 1, request: request(hiccup, { record: { most: 3 } }) });
    stage.jobs.take({ kind: "run", slot: "worse", id: 2, request: request(null as unknown as string) });
    stage.jobs.take({ kind: "run", slot: "good", id: 3, request: request(shorted) });
    stage.finish();
    expect(stage.sent.map(({ kind, slot }) => `${kind} ${slot}`)).toEqual([
      "failed bad",
      "failed worse",
      "answer good",
    ]);
    expect(stage.sent[0]).toMatchObject({ message: expect.stringMatching(/rows kept must be a whole number/) });
  });
});
