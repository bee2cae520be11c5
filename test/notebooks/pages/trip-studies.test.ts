import { readTripSettings, runScenario, type TripSettings, type TripWishes } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { Studies, type StudyNow } from "../../../packages/notebooks/src/pages/trip/studies.ts";
import type { RunHandlers, Runner } from "../../../packages/notebooks/src/run/runner.ts";
import { shippedText } from "../../study/trip/lines.ts";

/** Runs at once what it is asked for, when it is told to go on. */
function slowRunner() {
  const waiting: (() => void)[] = [];
  let begun = 0;
  let cancelled = 0;
  const runner: Runner = {
    run(_slot, { text, file, secondRun, record }, handlers: RunHandlers) {
      begun += 1;
      waiting.push(() => {
        const result = runScenario(text, file, {
          ...(secondRun === undefined ? {} : { secondRun }),
          record: record ?? true,
        });
        if (result.kind === "refused") handlers.refused(result.issues);
        else handlers.answer(result);
      });
    },
    stop() {},
    cancel() {
      cancelled += 1;
      waiting.length = 0;
    },
    dispose() {},
  };
  return {
    runner,
    counts: () => ({ begun, cancelled }),
    goOn(): void {
      for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) next();
    },
    step(): void {
      waiting.shift()?.();
    },
  };
}

function settingsOf(wishes: TripWishes = {}): TripSettings {
  const { settings } = readTripSettings(wishes);
  if (settings === null) throw new Error("the settings are wrong");
  return settings;
}

const hut = { text: shippedText("02-hiccup-supply"), file: "hut.yaml" };

describe("studies of a page", () => {
  test("tell the band first and then what opens one; asked again with another grade nothing is run", () => {
    const { runner, goOn, counts } = slowRunner();
    const studies = new Studies(runner, () => 0);
    const told: StudyNow[] = [];
    studies.ask("line", { ...hut, settings: settingsOf({ threshold: "zener 15 V" }) }, (now) => told.push(now));
    expect(told).toEqual([{ answer: null, busy: "band", failure: null }]);
    goOn();
    expect(told.map(({ busy }) => busy)).toEqual(["band", "changes", null]);
    const [, band, whole] = told.map(({ answer }) => (answer?.kind === "answered" ? answer.study : null));
    expect(band?.changes).toEqual([]);
    expect(whole?.changes.some(({ opens }) => opens)).toBe(true);
    const { begun } = counts();
    studies.ask("line", { ...hut, settings: settingsOf({ resistors: "0.1 %" }) }, (now) => told.push(now));
    expect(counts().begun).toBe(begun);
    expect(told.at(-1)?.answer?.kind).toBe("answered");
    expect(told.at(-1)?.busy).toBeNull();
  });

  test("of questions that come while a slider moves, the first is let finish and only the newest follows", () => {
    const { runner, goOn, step } = slowRunner();
    const studies = new Studies(runner, () => 0);
    const told: string[] = [];
    const ask = (wanted: string) =>
      studies.ask("line", { ...hut, settings: settingsOf({ wanted }) }, ({ answer, busy }) => {
        if (busy === null && answer?.kind === "answered") told.push(answer.study.trip.nominal.toFixed(1));
      });
    ask("14.8 V");
    step();
    ask("14.9 V");
    ask("15.0 V");
    ask("15.1 V");
    goOn();
    expect(told).toEqual(["14.8", "15.1"]);
  });

  test("a question that has taken long makes way at once", () => {
    const { runner, goOn, step } = slowRunner();
    let clock = 0;
    const studies = new Studies(runner, () => clock);
    const told: string[] = [];
    const ask = (wanted: string) =>
      studies.ask("line", { ...hut, settings: settingsOf({ wanted }) }, ({ answer, busy }) => {
        if (busy === null && answer?.kind === "answered") told.push(answer.study.trip.nominal.toFixed(1));
      });
    ask("14.8 V");
    step();
    clock = 5000;
    ask("15.0 V");
    goOn();
    expect(told).toEqual(["15.0"]);
  });

  test("what breaks off is told, and the next question is answered", () => {
    const failing: Runner = {
      run: (_slot, _request, { failed }) => failed("The computation broke off."),
      stop() {},
      cancel() {},
      dispose() {},
    };
    const told: StudyNow[] = [];
    new Studies(failing, () => 0).ask("line", { ...hut, settings: settingsOf() }, (now) => told.push(now));
    expect(told.at(-1)).toEqual({ answer: null, busy: null, failure: "The computation broke off." });
  });
});
