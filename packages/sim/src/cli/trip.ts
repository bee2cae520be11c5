import { tripSettingSpecs } from "../study/trip/settings.ts";
import { type Arguments, type Command, type OptionSpec, UsageError } from "./command.ts";
import { SCHEMES, SIZES } from "./figures.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

/** A time may be written with a blank before its unit; so may everything else that has one. */
const settings: readonly OptionSpec[] = tripSettingSpecs.map(({ name, about, dimension, words, usual }) => ({
  name,
  value:
    dimension === null
      ? "NAME"
      : dimension === "time"
        ? "TIME"
        : dimension === "voltage slew"
          ? "SLEW"
          : dimension.toUpperCase(),
  about: `${about}${usual === null ? "" : `; ${usual} unless told`}${words.length === 0 ? "" : `: ${words.join(", ")}`}`,
}));

export const trip: Command = {
  name: "trip",
  usage: "FILE [options]",
  summary: "where to set the trip: the band between normal service and the load's limit",
  about: [
    "Works out the lowest trip voltage that never trips falsely and the highest that always protects, with every share in them, where the nominal trip point may lie with a threshold device and its resistors, dividers from standard values, and, where there is no such place, the cheapest change that opens one. Normal service and faults are simulated with the line of the file.",
    "Values with a blank need quotes: --pick-up '0.2 V' or --pick-up 0.2V.",
  ],
  options: [
    ...settings,
    { name: "json", value: null, about: "print the whole study as JSON instead of the text" },
    { name: "csv", value: "FILE", about: "write shares, band, tolerances and dividers as a table" },
    { name: "svg", value: "FILE", about: "write the figure as SVG" },
    { name: "png", value: "FILE", about: "write the figure as PNG, 1920 pixels wide (780 with --size phone)" },
    { name: "size", value: "SIZE", about: "of the figure: page (default), slide, phone", words: SIZES },
    { name: "scheme", value: "SCHEME", about: "colours of the figure: light (default) or dark", words: SCHEMES },
  ],
  statuses: [
    [0, "there is a place for the trip point, and the one asked for is in it"],
    [1, "there is none, or the one asked for is not in it"],
    [2, "bad input, a line that cannot be asked, or a file that cannot be written"],
  ],
  examples: [
    "railfault trip hut.yaml",
    "railfault trip hut.yaml --resistors '0.1 %' --threshold 'shunt reference 0.5 %'",
    "railfault trip hut.yaml --charge-voltage 14.4V --coldest -10degC --svg trip.svg",
    "railfault trip hut.yaml --wanted 15V --ramp 30V/ms --json",
  ],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: tripCommand,
};

async function tripCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const [file] = given.names;
  const { values, switches } = given;
  const drawn = values.has("svg") || values.has("png");
  const problems = ["size", "scheme"]
    .filter((option) => values.has(option) && !drawn)
    .map((option) => `--${option} says how --svg FILE or --png FILE looks; neither was given.`);
  if (problems.length > 0) throw new UsageError(problems);
  const targets = (["csv", "svg", "png"] as const).flatMap((kind) => {
    const path = values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, [file]);
  const text = readInput(file, LARGEST_SCENARIO);
  const wishes = Object.fromEntries(
    tripSettingSpecs.flatMap(({ key, name }) => {
      const value = values.get(name);
      return value === undefined ? [] : [[key, value]];
    }),
  );
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { tripAndTell } = await import("./trip-and-tell.ts");
  const figure = {
    size: SIZES.find((name) => name === values.get("size")) ?? "page",
    scheme: SCHEMES.find((name) => name === values.get("scheme")) ?? "light",
  };
  return tripAndTell({ file, text, wishes, targets, figure, json: switches.has("json") }, terminal);
}
