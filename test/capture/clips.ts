import { normals } from "../../packages/sim/scripts/instrument.ts";
import { judgedValues } from "./records.ts";

/** Steps of 8 bits over 32 V. */
const STEP = 32 / 255;
const SERVICE = 13.8;

/** What a line does, V over s since it began, at `SERVICE` before. All that rise go well above 15.9 V. */
export const overvoltages = {
  "jumps and decays": (t: number) => SERVICE + 8 * Math.exp(-t / 2e-3),
  "rises like a filter and decays": (t: number) => SERVICE + 9 * (Math.exp(-t / 3e-3) - Math.exp(-t / 60e-6)),
  "half a sine": (t: number) => SERVICE + (t < 2e-3 ? 5 * Math.sin((Math.PI * t) / 2e-3) : 0),
  "a ramp that breaks off": (t: number) => (t < 1e-3 ? SERVICE + 6 * (t / 1e-3) : 0.7),
  "a ramp to a level": (t: number) => SERVICE + 6 * Math.min(1, t / 0.5e-3),
  "one jump to a level": () => SERVICE + 6,
  "rounds that go on and off": (t: number) => (t % 1e-3 < 0.3e-3 ? 0 : SERVICE + 5),
} as const;

/** What a line does in order, none of it above 15.5 V. */
export const orderlies = {
  "decays slowly after a jump": (t: number) => SERVICE + 1.7 * Math.exp(-t / 20e-3),
  "rises like a filter to a level": (t: number) => SERVICE + 1.5 * (1 - Math.exp(-t / 100e-6)),
  "half a sine": (t: number) => SERVICE + (t < 3e-3 ? 1.6 * Math.sin((Math.PI * t) / 3e-3) : 0),
  "a ripple": (t: number) => SERVICE + 0.6 * Math.sin(2 * Math.PI * 100 * t * 5),
  "a triangle": (t: number) => SERVICE + 1.5 * Math.max(0, 1 - Math.abs(t / 1e-3 - 1)),
  "goes out for a while": (t: number) => (t < 1.5e-3 ? 0.7 : SERVICE),
  "goes out for good": () => 0.7,
  "rounds that go on and off": (t: number) => (t % 1e-3 < 0.7e-3 ? 0 : SERVICE),
} as const;

export interface Told {
  /** Said to stay within 15.9 V for certain. */
  readonly within: number;
  /** Not known, for its top is flat. */
  readonly doubted: number;
}

/** What is told of records in which an instrument's range ends at `end`, V. */
export function clippedRecords(
  seeds: number,
  shape: (t: number) => number,
  { sigma, interval, end }: { readonly sigma: number; readonly interval: number; readonly end: number },
): Told {
  let [within, doubted] = [0, 0];
  for (let seed = 1; seed <= seeds; seed++) {
    const gauss = normals(seed);
    const begin = interval * (200 + ((seed * 0.618) % 1));
    const top = end - STEP * ((seed * 0.414) % 1);
    const values = Float64Array.from({ length: 800 }, (_, k) => {
      const t = k * interval - begin;
      const value = (t < 0 ? SERVICE : shape(t)) + sigma * gauss();
      return top + STEP * Math.min(0, Math.round((value - top) / STEP));
    });
    const { findings, tooClose } = judgedValues(values, interval, 1e-3, 15.9);
    if (!tooClose && findings[0]!.severity !== "beyond") within++;
    if (findings[0]!.severity === "unknown") doubted++;
  }
  return { within, doubted };
}
