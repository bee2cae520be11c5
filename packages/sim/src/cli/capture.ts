import { type Arguments, type Command, type OptionSpec, UsageError } from "./command.ts";
import { CORRECTIONS, writtenCorrections } from "./corrections.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

const READ: readonly OptionSpec[] = [
  ...CORRECTIONS,
  { name: "limits", value: "VOLTAGES", about: "to hold the voltages against: '11.7…15.9 V', or the upper one alone" },
];

export const capture: Command = {
  name: "capture",
  usage: "FILE [options]",
  summary: "read what an oscilloscope or a logger recorded, and judge it without a model",
  about: [
    "Recognises how the table is written (delimiter, decimal mark, lines above it, names, units, time), says what it understood, and judges each channel: peak, time above and below limits, trips and their period, rise, ringing, noise, resolution. Each figure comes with what the file leaves open: sample interval, steps, noise.",
    "What was understood wrongly is corrected with options. Nothing of the file is changed.",
  ],
  options: [
    ...READ,
    { name: "json", value: null, about: "print layout and judgement as JSON instead of the text" },
    { name: "csv", value: "FILE", about: "write the figures as a table" },
  ],
  statuses: [
    [0, "read; every peak stays within the upper limit, or none was given"],
    [1, "a peak passes the upper limit, or is too close to it to call"],
    [2, "bad input: no table, no time, no channel, or a file that cannot be written"],
  ],
  examples: [
    "railfault capture bench.csv",
    "railfault capture bench.csv --limits '11.7…15.9 V'",
    "railfault capture logger.txt --interval 20ms --channel '1: radio, V; 2: supply current, 10 mV/A'",
    "railfault capture bench.csv --json",
  ],
  names: { what: "The file", least: 1, most: 1 },
  run: captureCommand,
};

async function captureCommand({ names, values, switches }: Arguments, terminal: Terminal): Promise<number> {
  const [file = ""] = names;
  const csv = values.get("csv");
  const target = csv === undefined ? null : { option: "--csv", path: csv };
  if (target !== null) checkTargets([target], [file]);
  if (file === "-") throw new UsageError(["A capture is read from a file."]);
  const written = writtenCorrections(values, READ);
  // Only now: whoever mistyped an option need not wait.
  const { captureAndTell } = await import("./capture-and-tell.ts");
  return captureAndTell({ file, written, target, json: switches.has("json") }, terminal);
}
