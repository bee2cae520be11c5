import { readFileSync } from "node:fs";
import { type Instrument, normals, record } from "../../../packages/sim/scripts/instrument.ts";
import { type Capture, parseScenario, simulate, type Trace } from "../../../packages/sim/src/index.ts";
import { changeTexts } from "../../../packages/sim/src/scenario/index.ts";
import { readPath } from "../../../packages/sim/src/scenario/spread/read-path.ts";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";
import { shipped } from "../../cli/launch.ts";

/** A shipped scenario with other values at some paths. */
export function scenarioWith(name: string, values: Readonly<Record<string, string>>): string {
  const text = readFileSync(shipped(`${name}.yaml`), "utf8");
  return changeTexts(
    text,
    Object.entries(values).map(([key, value]) => [readPath(key, null)!, value] as const),
  );
}

/** What an instrument shows of a line: a capture with a known truth. */
export function captured(
  text: string,
  instrument: Instrument,
  lacking: ((time: number) => number) | null = null,
): Capture {
  const { scenario, issues } = parseScenario(text, "truth.yaml");
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("; "));
  const until = instrument.from + (instrument.samples + 2) * instrument.interval;
  // A hundredth of its noise, or less: what the run's own rows miss is not to be in a truth.
  const within = Object.fromEntries(instrument.channels.map(({ column, noise }) => [column, noise / 300]));
  const run = simulate({ ...scenario, endTime: until }, { tolerance: 1e-8, record: { within } });
  const { time, values } = record(withLacking(run.trace, instrument.interval / 4, lacking), instrument);
  return captureOf(
    time,
    instrument.channels.map(({ name, unit }, c) => ({ name, unit, values: values[c]! })),
  );
}

/** What the model lacks is added to every voltage, at rows close enough together to show it. */
function withLacking(trace: Trace, step: number, lacking: ((time: number) => number) | null): Trace {
  if (lacking === null) return trace;
  const end = trace.time[trace.time.length - 1]!;
  const grid = Array.from({ length: Math.floor(end / step) }, (_, k) => k * step);
  const time = Float64Array.from([...trace.time, ...grid]).sort();
  const columns = trace.columns.map((column) => {
    const line = new LineCurve(trace.time, column.values);
    return { ...column, values: time.map((t) => line.at(t) + (column.unit === "V" ? lacking(t) : 0)) };
  });
  return { time, columns };
}

export function captureOf(
  time: Float64Array,
  channels: readonly { readonly name: string; readonly unit: "V" | "A"; readonly values: Float64Array }[],
): Capture {
  const layouts = channels.map(({ name, unit }, c) => ({
    column: c + 2,
    name,
    unit,
    attenuation: 1,
    offset: 0,
    inverted: false,
    amperesPerVolt: null,
    deskew: 0,
  }));
  return {
    file: "bench.csv",
    layout: {
      delimiter: ",",
      decimal: ".",
      preamble: [],
      headerLine: 1,
      unitsLine: null,
      firstLine: 2,
      columns: channels.length + 1,
      time: { column: 1, name: "time", unit: "s", date: null, from: null },
      interval: null,
      channels: layouts,
    },
    time,
    channels: channels.map(({ name, unit, values }, c) => ({
      layout: layouts[c]!,
      name,
      unit,
      values,
      gaps: 0,
      outOfRange: 0,
      outside: [],
      digit: 0,
    })),
    interval: time[1]! - time[0]!,
    timeGrain: 0,
  };
}

/** Two whole rounds of a hiccup in place of three: for what does not hang on how many there are. */
export const BRIEFLY = { samples: 3400 } as const;

/** An instrument of eight bits before a hiccup supply's line, a sample every quarter of a millisecond, its noise half a step. */
export function hiccupInstrument(seed: number, change: Partial<Instrument> = {}): Instrument {
  const gauss = normals(1000 + seed);
  return {
    from: 0.004 + 0.0002 * (seed % 7),
    interval: 0.25e-3,
    samples: 4800,
    bandwidth: 2e5,
    bits: 8,
    seed,
    channels: [
      {
        column: "relay_radio_V",
        name: "radio",
        unit: "V",
        range: [-4, 20],
        noise: 0.05,
        offset: 0.02 * gauss(),
        skew: 0,
      },
      {
        column: "station_supply_V",
        name: "supply",
        unit: "V",
        range: [-5, 25],
        noise: 0.06,
        offset: 0.02 * gauss(),
        skew: 2e-6,
      },
    ],
    ...change,
  };
}
