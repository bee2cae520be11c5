import {
  faultFigure,
  fitFigure,
  heatFigure,
  matchFigure,
  multiplesFigure,
  surgeBarsFigure,
  timeCurrentFigure,
  tripFigure,
  withstandFigure,
} from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { expect, test } from "vitest";
import { heat, matrix, surge, timeCurrent, withstand } from "./chart-data.ts";
import { shortedPass } from "./synthetic.ts";
import { trip } from "./trip-data.ts";

const { document } = new JSDOM("").window;
const options = { document };
const fault = shortedPass();
const [load] = withstand().loads;
const [melting] = timeCurrent().curves;
const [row] = matrix().rows;
const times = (...values: number[]) => Float64Array.from(values);

test.each<[string, () => unknown, string]>([
  ["one instant", () => faultFigure({ ...fault, time: times(0) }, options), "time has 1 point, at least 2 are needed"],
  [
    "an instant that is none",
    () => heatFigure({ ...heat(), time: heat().time.map((time, i) => (i === 1 ? Number.NaN : time)) }, options),
    "time[1] is NaN",
  ],
  [
    "a time that stands still",
    () => faultFigure({ ...fault, time: fault.time.map(() => 1) }, options),
    "time does not advance",
  ],
  ["no instant of the fault", () => faultFigure({ ...fault, faultTime: Number.NaN }, options), "faultTime is NaN"],
  [
    "an event at no time",
    () => faultFigure({ ...fault, events: [{ ...fault.events[0], time: Number.NaN, label: "it melts" }] }, options),
    'event "it melts" at NaN',
  ],
  [
    "a limit of nothing",
    () => faultFigure({ ...fault, currents: [{ ...fault.currents[0], limit: { value: 0, label: "melts" } }] }, options),
    'limit "melts" is 0, allowed: above 0',
  ],
  [
    "heat without the time of the fault",
    () => heatFigure({ ...heat(), faultTime: Infinity }, options),
    "faultTime is Infinity",
  ],
  ["heat without surroundings", () => heatFigure({ ...heat(), ambient: Number.NaN }, options), "ambient is NaN"],
  ["a surge of no parts", () => surgeBarsFigure({ ...surge(), parts: [] }, options), "there are no parts"],
  [
    "a surge in a window without length",
    () => surgeBarsFigure({ ...surge(), windows: [{ duration: 0, i2t: 1, allowed: 2 }] }, options),
    "the window of 0 s has 1 of 2 A²s",
  ],
  [
    "a curve of one point",
    () =>
      timeCurrentFigure(
        { ...timeCurrent(), curves: [{ ...melting, label: "A", points: melting.points.slice(0, 1) }] },
        options,
      ),
    '"A" has 1 point, at least 2 are needed',
  ],
  [
    "a run at no current",
    () => timeCurrentFigure(timeCurrent({ label: "this run", current: 0, time: 1 }), options),
    '"this run" stands at 0 A, 1 s',
  ],
  [
    "a load that came nearest for no time",
    () =>
      withstandFigure(
        { ...withstand(), loads: [{ ...load, nearest: { voltage: 16, found: 0, allowed: 1 } }] },
        options,
      ),
    "nearest is 0 s of 1 s",
  ],
  ["a matrix of no fuse", () => matchFigure({ ...matrix(), rows: [] }, options), "there is no fuse"],
  [
    "a row with cells of other SCRs and wires",
    () => matchFigure({ ...matrix(), rows: [{ ...row, fuse: "A", withScrs: [], withWires: [] }] }, options),
    `A has 0 cells for ${matrix().scrs.length} SCRs; A has 0 cells for ${matrix().wires.length} wires`,
  ],
  [
    "a band that is not finite",
    () => tripFigure({ ...trip(), band: { low: Number.NaN, high: 15 } }, options),
    "a voltage is not finite",
  ],
  [
    "a side of no shares",
    () => tripFigure({ ...trip(), below: { ...trip().below, title: "A", shares: [] } }, options),
    '"A" has no shares',
  ],
  ["no capture", () => fitFigure({ title: "", subtitle: "", channels: [] } as never, options), "there is no channel"],
  [
    "no runs side by side",
    () => multiplesFigure({ title: "", subtitle: "", panels: [] }, options),
    "there are no runs",
  ],
])("%s cannot be drawn, and the reason is told", (_, draw, words) => {
  expect(draw).toThrow(RangeError);
  expect(draw).toThrow(words);
});
