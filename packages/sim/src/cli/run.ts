import { parseQuantity } from "../units/index.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { FIGURE_LIST, FIGURES, SCHEMES, SIZES } from "./figures.ts";
import { METHODS } from "./methods.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

export const run: Command = {
  name: "run",
  usage: "FILE [options]",
  summary: "run a scenario and print the verdict",
  about: [
    "Reads a scenario file, finds the healthy operating point, lets the fault strike and prints the verdict: first whether the radio was safe, then why, what else was hurt, and what to do before the next use.",
    "Pictures, tables of waveforms and --trace hold every round of a line that trips on and on, so each is integrated: an hour of a hiccup supply then takes half a minute or more, the text alone some seconds.",
  ],
  options: [
    { name: "json", value: null, about: "print the whole result as JSON instead of the text" },
    { name: "trace", value: null, about: "with --json: the waveforms too" },
    { name: "csv", value: "FILE", about: "write the waveforms as a table" },
    { name: "svg", value: "FILE", about: "write the figure as SVG" },
    { name: "png", value: "FILE", about: "write the figure as PNG, 1920 pixels wide (780 with --size phone)" },
    { name: "figure-csv", value: "FILE", about: "write what the figure draws as a table" },
    {
      name: "figure",
      value: "FIGURE",
      about: `what --svg, --png and --figure-csv show: ${FIGURE_LIST}`,
      words: FIGURES,
    },
    {
      name: "size",
      value: "SIZE",
      about: "of the figure: page (default; 960 × 540), slide (1920 × 1080 with larger type), phone (390 wide)",
      words: SIZES,
    },
    { name: "scheme", value: "SCHEME", about: "colours of the figure: light (default) or dark", words: SCHEMES },
    { name: "until", value: "TIME", about: "end the run earlier than the scenario does, for instance 5 ms" },
    {
      name: "method",
      value: "METHOD",
      about: `integration method: ${METHODS.join(", ")} (an independent check for short runs)`,
      words: METHODS,
    },
    {
      name: "tolerance",
      value: "NUMBER",
      about: "relative tolerance of the solver: default, tight, or a number from 1e-12 to 1e-3",
    },
    {
      name: "whole",
      value: null,
      about: "integrate every round of a line that trips on and on, also where hundreds are alike",
    },
    { name: "colour", value: null, about: "colours even where no terminal is seen", also: "color" },
    { name: "no-colour", value: null, about: "no colours", also: "no-color" },
  ],
  statuses: [
    [0, "the radio is safe and nothing went beyond its rating, nor will by the estimate of what the run cuts off"],
    [
      1,
      "the radio came above its window (also within what it stands), or it is too close to call, or its voltage is still on its way up when the run ends",
    ],
    [2, "bad input, or a file that cannot be written: there was no run"],
    [3, "no verdict: the solver failed, or the energy does not close"],
    [4, "the radio is safe, but something else went beyond its rating, or is about to if nobody acts"],
  ],
  examples: [
    "railfault run hut.yaml",
    "railfault run hut.yaml --svg hut.svg --csv hut.csv",
    "railfault run hut.yaml --figure headroom --png headroom.png",
    "railfault run hut.yaml --figure heat --size slide --scheme dark --png heat.png",
    "railfault run hut.yaml --until 5ms --method odex",
    "railfault run hut.yaml --json > hut.json",
  ],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: runCommand,
};

/**
 * Rows that are held at most. A verdict needs none but the last; waveforms are whole up to here, about 700 MB of a line with sixteen columns: a line that
 * swings for minutes would fill any memory.
 */
const VERDICT_ROWS = 200_000;
const WAVEFORM_ROWS = 5_000_000;

async function runCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const [file] = given.names;
  const options = runOptions(given);
  const figure = figureOf(given);
  const targets = (["csv", "svg", "png", "figure-csv"] as const).flatMap((kind) => {
    const path = given.values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, [file]);
  const text = readInput(file, LARGEST_SCENARIO);
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { runAndTell } = await import("./run-and-tell.ts");
  // Waveforms that are written are whole.
  const isVerdictAlone = targets.length === 0 && !given.switches.has("trace");
  const leaps = isVerdictAlone && !given.switches.has("whole");
  const record = { most: isVerdictAlone ? VERDICT_ROWS : WAVEFORM_ROWS };
  return runAndTell(
    { file, text, options: { ...options, leaps, record }, targets, figure, ...formOf(given, terminal) },
    terminal,
  );
}

function figureOf({ values }: Arguments) {
  return {
    name: FIGURES.find((name) => name === values.get("figure")) ?? "fault",
    size: SIZES.find((name) => name === values.get("size")) ?? "page",
    scheme: SCHEMES.find((name) => name === values.get("scheme")) ?? "light",
  };
}

function formOf({ switches }: Arguments, terminal: Terminal) {
  const colour = !switches.has("no-colour") && (switches.has("colour") || terminal.colour);
  return { json: switches.has("json"), trace: switches.has("trace"), colour };
}

function runOptions({ values, switches }: Arguments) {
  const problems: string[] = [];
  if (switches.has("trace") && !switches.has("json"))
    problems.push("--trace belongs to --json; for a table there is --csv FILE.");
  if (switches.has("colour") && switches.has("no-colour"))
    problems.push("--colour and --no-colour exclude each other.");
  const drawn = values.has("svg") || values.has("png");
  if (values.has("figure") && !drawn && !values.has("figure-csv"))
    problems.push("--figure says what --svg FILE, --png FILE or --figure-csv FILE shows; none of them was given.");
  for (const option of ["size", "scheme"]) {
    if (values.has(option) && !drawn)
      problems.push(`--${option} says how --svg FILE or --png FILE looks; neither was given.`);
  }
  const tolerance = toleranceOf(values.get("tolerance"), problems);
  const until = timeOf(values.get("until"), problems);
  const method = METHODS.find((name) => name === values.get("method"));
  if (problems.length > 0) throw new UsageError(problems);
  return {
    ...(tolerance === undefined ? {} : { tolerance }),
    ...(until === undefined ? {} : { until }),
    ...(method === undefined ? {} : { method }),
  };
}

function toleranceOf(text: string | undefined, problems: string[]): number | "default" | "tight" | undefined {
  if (text === undefined || text === "default" || text === "tight") return text;
  const value = Number(text);
  if (value >= 1e-12 && value <= 1e-3) return value;
  problems.push(`--tolerance is default, tight, or a number from 1e-12 to 1e-3; received "${text}".`);
  return undefined;
}

function timeOf(text: string | undefined, problems: string[]): number | undefined {
  if (text === undefined) return undefined;
  const parsed = parseQuantity(text, "time");
  if (parsed.ok) return parsed.value;
  problems.push(`--until "${text}": ${parsed.message} Allowed: ${parsed.allowed ?? "a time, for instance 5 ms"}.`);
  return undefined;
}
