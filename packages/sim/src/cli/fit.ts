import { USUAL_ZERO } from "../study/fit/prepare.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { CORRECTIONS, writtenCorrections } from "./corrections.ts";
import { figureProblems, pictureLook, pictureOptions } from "./study-options.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

export const fit: Command = {
  name: "fit",
  usage: "SCENARIO CAPTURE [--free PATH[=FROM…TO],…] [options]",
  summary: "find values of a scenario from a capture of the real line",
  about: [
    "Lays a capture on a run of the scenario and finds the values that make the two alike: least squares of waveforms and event times together. Tells intervals meant for 95 %, what the capture cannot tell, and what it shows that the model lacks; writes the scenario with the values found, and judges it.",
    "Without --free no value moves: the capture is laid on the run as it stands, and what the two differ in is told.",
    "What was understood wrongly of the capture is corrected with the options that `railfault capture` has for it, before anything is laid on the run: the factor of a probe, a clamp or a shunt.",
    "Each value is a path, with bounds behind a = if need be: 'crowbar.trip voltage, sources[0].limit.off time=200…400 ms'. Without bounds: from a third to three times of what stands in the scenario.",
  ],
  options: [
    { name: "free", value: "VALUES", about: "which values may move; left out: none does" },
    {
      name: "channels",
      value: "WHICH",
      about:
        "which channel shows which column of the run, where the names do not tell: 'CH1 = relay_radio_V, CH2 = crowbar_A'",
    },
    {
      name: "align",
      value: "WAY",
      about: "lays the capture by its first edge (threshold, default) or by the best likeness (correlation)",
      words: ["threshold", "correlation"],
    },
    {
      name: "zero",
      value: "SHARE",
      about: `by what share of its range a channel's zero may be off: ${USUAL_ZERO} unless told; 0: not at all`,
    },
    ...CORRECTIONS,
    { name: "out", value: "FILE", about: "write the scenario with the values found, their intervals as tolerances" },
    { name: "json", value: null, about: "print everything as JSON instead of the text" },
    { name: "csv", value: "FILE", about: "write the times of events as a table" },
    ...pictureOptions,
  ],
  statuses: [
    [0, "values were found, or none was to move, and what is left is noise"],
    [1, "the capture shows something that the model lacks, is of another line, or tells none of the values"],
    [2, "bad input, or a file that cannot be written"],
  ],
  examples: [
    "railfault fit hut.yaml bench.csv --free 'crowbar.trip voltage, sources[0].limit.off time' --out fitted.yaml",
    "railfault fit hut.yaml bench.csv --free 'crowbar.trip voltage=14..16 V' --svg overlay.svg",
    "railfault fit hut.yaml bench.csv --channels 'CH1 = relay_radio_V' --svg overlay.svg",
    "railfault fit hut.yaml bench.csv --channel '2: relay radio, 10×; 3: crowbar, 10 mV/A' --free 'crowbar.trip voltage'",
  ],
  names: { what: "The scenario file and the capture", least: 2, most: 2 },
  run: fitCommand,
};

const listed = (text: string): string[] =>
  text
    .split(",")
    .map((each) => each.trim())
    .filter((each) => each !== "");

async function fitCommand({ names, values, switches }: Arguments, terminal: Terminal): Promise<number> {
  const [file = "", captureFile = ""] = names;
  const problems: string[] = [];
  const free = values.get("free");
  if (free === undefined && values.has("out"))
    problems.push(
      "--out writes values that were found: --free VALUES says which may move: --free 'crowbar.trip voltage'.",
    );
  const zero = Number(values.get("zero") ?? USUAL_ZERO);
  if (!(zero >= 0 && zero <= 0.2)) problems.push(`--zero takes a share from 0 to 0.2, not "${values.get("zero")}".`);
  figureProblems(values, problems);
  if (captureFile === "-") problems.push("A capture is read from a file.");
  if (problems.length > 0) throw new UsageError(problems);
  const targets = (["out", "csv", "svg", "png"] as const).flatMap((kind) => {
    const path = values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, [file, captureFile]);
  const { fitAndTell } = await import("./fit-and-tell.ts");
  return fitAndTell(
    {
      file,
      captureFile,
      written: writtenCorrections(values),
      free: free === undefined ? null : listed(free),
      options: {
        channels: listed(values.get("channels") ?? ""),
        align: values.get("align") === "correlation" ? "correlation" : "threshold",
        zero,
      },
      targets,
      figure: pictureLook(values),
      json: switches.has("json"),
    },
    terminal,
  );
}
