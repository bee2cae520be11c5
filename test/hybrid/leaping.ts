import { Loop } from "../../packages/sim/src/hybrid/loop.ts";
import { Rounds } from "../../packages/sim/src/hybrid/rounds.ts";
import type { Leap } from "../../packages/sim/src/hybrid/rounds-types.ts";
import { type Beaten, type BeatParts, beating, type World } from "./beats.ts";

/** A run with leaps; each try to leap ends with telling the loop's journal again. */
export function under(parts: BeatParts, end: number, onLeap: (leap: Leap) => void = () => {}) {
  const all = beating(parts);
  const { system, integrator, watcher, world, start } = all;
  const leaps: Leap[] = [];
  let tries = 0;
  const repeating = {
    ...all.repeating,
    tell: (journal: World["journal"]) => {
      if (journal === loop) tries++;
      all.repeating.tell(journal);
    },
  };
  const started = () =>
    new Rounds({
      system,
      integrator,
      watcher,
      endTime: end,
      logged: { source: 9, code: "leapt" },
      onLeap: (leap) => {
        leaps.push(leap);
        onLeap(leap);
      },
      repeating,
    });
  let rounds = started();
  const loop: Loop = new Loop(
    system,
    integrator,
    watcher,
    Float64Array.from(start),
    { endTime: end, firstStep: 1, maxChanges: 1e6, pausesAfter: (events) => rounds.pausesAfter(loop, events) },
    () => {},
  );
  world.journal = loop;
  return {
    ...all,
    loop,
    leaps,
    rounds: () => rounds,
    tries: () => tries,
    run() {
      // What is carried is as much as there are excursions by now.
      rounds = started();
      while (rounds.advance(loop, 1000) === "running");
      return this;
    },
  };
}

export const TAU = 400;
export const x: Beaten = { name: "x", role: { kind: "relaxes", timeConstant: TAU, feedsBack: false } };
export const rising: Beaten = { name: "E", role: { kind: "adds up" }, rate: () => 1 };
export const z: Beaten = { name: "z", role: { kind: "returns" }, start: 5, rate: () => -1 };
/** x gets 1 at each beat, E rises by 1 a second, z falls from 5 to 4. */
export const usual: BeatParts = {
  states: [x, rising, z],
  beat: (y) => {
    y[0] += 1;
    y[2] = 5;
  },
};

/** x after n beats. */
export function geometric(n: number): number {
  const left = Math.exp(-1 / TAU);
  return (1 - left ** n) / (1 - left);
}
