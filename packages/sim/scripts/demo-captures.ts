/**
 * Writes the captures that are shipped for trying out: `npx tsx packages/sim/scripts/demo-captures.ts`. Each is synthetic: made from a scenario by the
 * instrument of instrument.ts, and says so in its first line and in its name. Five ways of writing, the same samples.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { simulate } from "../src/model/run.ts";
import { parseScenario } from "../src/scenario/index.ts";
import { type Instrument, type Recorded, record } from "./instrument.ts";

const folder = join(import.meta.dirname, "..");

/** Where they stand. */
export const captureFolder = join(folder, "captures");

export interface DemoCapture {
  readonly name: string;
  readonly scenario: string;
  readonly instrument: Instrument;
}

/** The moment of a shorted pass transistor in microseconds, and the rounds of a hiccup supply in a second. */
export const demoCaptures: readonly DemoCapture[] = [
  {
    name: "shorted-pass-transistor",
    scenario: "01-shorted-pass-transistor.yaml",
    instrument: {
      from: 0.01995,
      interval: 0.2e-6,
      samples: 1250,
      bandwidth: 2e6,
      bits: 8,
      seed: 1,
      channels: [
        { column: "relay_radio_V", name: "radio", unit: "V", range: [-4, 20], noise: 0.03, offset: 0.02, skew: 0 },
        {
          column: "crowbar_A",
          name: "crowbar",
          unit: "A",
          range: [-100, 500],
          noise: 1.2,
          offset: -1.5,
          skew: 0.12e-6,
        },
      ],
    },
  },
  {
    name: "hiccup-supply",
    scenario: "02-hiccup-supply.yaml",
    instrument: {
      from: 0,
      interval: 1e-3,
      samples: 1250,
      bandwidth: 2e5,
      bits: 8,
      seed: 2,
      channels: [
        { column: "relay_radio_V", name: "radio", unit: "V", range: [-4, 20], noise: 0.02, offset: -0.03, skew: 0 },
        {
          column: "station_supply_V",
          name: "supply",
          unit: "V",
          range: [-5, 25],
          noise: 0.04,
          offset: 0.05,
          skew: 2e-6,
        },
      ],
    },
  },
];

/** What the instrument showed. */
export function recordedOf({ scenario, instrument }: DemoCapture): Recorded {
  const text = readFileSync(join(folder, "scenarios", scenario), "utf8");
  const { scenario: complete } = parseScenario(text, scenario);
  if (complete === null) throw new Error(`${scenario} was refused`);
  const until = instrument.from + instrument.samples * instrument.interval;
  // What bends within the run's steps is not to be missing: a fit would find it.
  const within = Object.fromEntries(instrument.channels.map(({ column, noise }) => [column, noise / 300]));
  const run = simulate(complete, { until: Math.min(1.01 * until, complete.endTime), record: { within } });
  return record(run.trace, instrument);
}

/** A way of writing, with the ending of its files. */
export interface Format {
  readonly name: string;
  readonly ending: "csv" | "txt";
  write(capture: DemoCapture, recorded: Recorded): string;
}

const says = ({ scenario }: DemoCapture): string => `synthetic, simulated from ${scenario}`;
/** Digits that keep the steps of 8 bits apart and times, too. */
const value = (number: number): string => String(Number(number.toFixed(3)));
const seconds = (number: number): string => String(Number(number.toPrecision(7)));
const comma = (text: string): string => text.replace(".", ",");

export const formats: readonly Format[] = [
  {
    name: "comma",
    ending: "csv",
    write: (capture, { time, values }) => {
      const { instrument } = capture;
      const head = [
        `Origin,${says(capture)}`,
        `Samples,${instrument.samples}`,
        `Sample interval,${instrument.interval},s`,
        `Bits,${instrument.bits}`,
        "",
        `time (s),${instrument.channels.map(({ name, unit }) => `${name} (${unit})`).join(",")}`,
      ];
      return lines(head, time, "\n", (t, k) => [seconds(t), ...values.map((each) => value(each[k]))].join(","));
    },
  },
  {
    name: "semicolon",
    ending: "csv",
    write: (capture, { time, values }) => {
      const head = [
        `Origin;${says(capture)}`,
        `t [ms];${capture.instrument.channels.map(({ name, unit }) => `${name} [${unit}]`).join(";")}`,
      ];
      return lines(head, time, "\r\n", (t, k) =>
        [comma(seconds(1e3 * t)), ...values.map((each) => comma(value(each[k])))].join(";"),
      );
    },
  },
  {
    name: "tab",
    ending: "txt",
    write: (capture, { time, values }) => {
      const { channels, interval } = capture.instrument;
      const head = [
        `# origin: ${says(capture)}`,
        `# sample interval: ${Number((1e6 * interval).toPrecision(6))} us`,
        `no\t${channels.map(({ name, unit }) => `${name}_${unit}`).join("\t")}`,
      ];
      return lines(head, time, "\n", (_, k) => [String(k), ...values.map((each) => value(each[k]))].join("\t"));
    },
  },
  {
    name: "spreadsheet",
    ending: "csv",
    write: (capture, { time, values }) => {
      const { channels } = capture.instrument;
      const head = [
        `"${says(capture)}",,`,
        `time,${channels.map(({ name }) => `"${name}, terminals"`).join(",")}`,
        `s,${channels.map(({ unit }) => (unit === "V" ? "mV" : unit)).join(",")}`,
      ];
      const shown = (channel: number, k: number): string =>
        value(channels[channel].unit === "V" ? 1000 * values[channel][k] : values[channel][k]);
      return `\ufeff${lines(head, time, "\r\n", (t, k) => [seconds(t), ...values.map((_, c) => shown(c, k))].join(","))}`;
    },
  },
  {
    name: "scientific",
    ending: "csv",
    write: (capture, { time, values }) => {
      const head = [
        `# ${says(capture)}`,
        `time,${capture.instrument.channels.map(({ name }) => name).join(",")}`,
        `s,${capture.instrument.channels.map(({ unit }) => unit).join(",")}`,
      ];
      // Now and then a channel was not ready: a cell in 97 stays empty.
      return lines(head, time, "\n", (t, k) =>
        [
          t.toExponential(6),
          ...values.map((each, c) => ((k + 31 * c) % 97 === 50 ? "" : each[k].toExponential(3))),
        ].join(","),
      );
    },
  },
];

function lines(
  head: readonly string[],
  time: Float64Array,
  end: string,
  row: (t: number, k: number) => string,
): string {
  return [...head, ...Array.from(time, row), ""].join(end);
}

/** `shorted-pass-transistor-synthetic-comma.csv` */
export function captureName({ name }: DemoCapture, format: Format): string {
  return `${name}-synthetic-${format.name}.${format.ending}`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  mkdirSync(captureFolder, { recursive: true });
  for (const demo of demoCaptures) {
    const recorded = recordedOf(demo);
    for (const format of formats)
      writeFileSync(join(captureFolder, captureName(demo, format)), format.write(demo, recorded));
  }
}
