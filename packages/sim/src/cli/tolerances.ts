import { LARGEST_SEED } from "../study/pool/counter.ts";
import {
  MOST_CORNERS,
  MOST_PARTS,
  MOST_SAMPLES,
  type TolerancesOptions,
  USUAL_OPTIONS,
} from "../study/spread/options.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { wholeNumber } from "./numbers.ts";
import { figureProblems, MOST_THREADS, pictureLook, pictureOptions, threadsOption } from "./study-options.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

const STUDY = ["samples", "seed", "corners", "threads", "part"] as const;

export const tolerances: Command = {
  name: "tolerances",
  usage: "FILE [options], or --merge PART...",
  summary: "how sure one can be with real, scattered parts",
  about: [
    "Runs a scenario many times with its values drawn from the spreads that stand under `tolerances` in the file, and at all corners of the most telling ones: the chance that a load comes above its maximum with its interval, how peak and time to the trip are distributed, which values matter, and the worst sample as a scenario file.",
    "The same seed gives the same result whatever the number of threads. --part 3/16 runs one of sixteen parts; --merge puts their results (--json) together to exactly what one machine gives.",
  ],
  options: [
    {
      name: "samples",
      value: "N",
      about: `how many samples are drawn: ${USUAL_OPTIONS.samples} unless told, at most ${MOST_SAMPLES}`,
    },
    { name: "seed", value: "S", about: `of the draws, a whole number; ${USUAL_OPTIONS.seed} unless told` },
    {
      name: "corners",
      value: "M",
      about: `all corners of so many of the most telling values are run: ${USUAL_OPTIONS.corners} unless told, at most ${MOST_CORNERS}`,
    },
    threadsOption,
    { name: "part", value: "I/N", about: "only this part of the samples, for instance 3/16; with --json" },
    {
      name: "merge",
      value: null,
      about: "put the results of all parts together; takes their files instead of a scenario",
    },
    { name: "json", value: null, about: "print everything as JSON: what was found and every run; a part for --merge" },
    { name: "csv", value: "FILE", about: "write a table with a row for each sample and corner" },
    ...pictureOptions,
    { name: "worst", value: "FILE", about: "write the worst sample as a scenario file that reproduces it" },
    { name: "worst-corner", value: "FILE", about: "write the worst corner as a scenario file" },
    { name: "at", value: "INDEX", about: "the sample that --scenario writes" },
    { name: "scenario", value: "FILE", about: "write the sample of --at INDEX as a scenario file" },
  ],
  statuses: [
    [0, "in no sample and at no corner a load came above its maximum or anything beyond its rating"],
    [1, "in at least one a load came above its maximum (also within what it stands), or it was too close to call"],
    [2, "bad input, or a file that cannot be written: there were no runs"],
    [3, "no load came above its maximum, but at least one sample gave no verdict"],
    [4, "the load was always safe, but something else went beyond its rating"],
  ],
  examples: [
    "railfault tolerances hut.yaml",
    "railfault tolerances hut.yaml --samples 10000 --seed 7 --worst worst.yaml --svg tolerances.svg",
    "railfault tolerances hut.yaml --samples 100000 --part 3/16 --json > part-03.json",
    "railfault tolerances --merge part-*.json",
  ],
  names: { what: "The scenario file", least: 1, most: Number.POSITIVE_INFINITY },
  run: tolerancesCommand,
};

async function tolerancesCommand(given: Arguments, terminal: Terminal): Promise<number> {
  const { names, values, switches } = given;
  const problems: string[] = [];
  const merging = switches.has("merge");
  if (!merging && names.length > 1)
    problems.push(`${names.slice(1).join(", ")}: this command takes one scenario, or --merge and parts.`);
  if (merging) {
    for (const name of STUDY.filter((each) => values.has(each)))
      problems.push(`--${name} says how samples are run; --merge runs none.`);
  }
  const options = studyOptions(values, problems);
  if (options.part.of > 1 && !switches.has("json"))
    problems.push("--part gives a part of a result, which only --json hands on; add --json.");
  if (options.part.of > 1) {
    for (const name of ["csv", "svg", "png", "worst", "worst-corner", "scenario"].filter((each) => values.has(each)))
      problems.push(`--${name} tells of the whole; ask for it with --merge.`);
  }
  const threads = wholeNumber(values, "threads", [1, MOST_THREADS], 0, problems);
  const at = wholeNumber(values, "at", [0, MOST_SAMPLES - 1], -1, problems);
  if (values.has("at") !== values.has("scenario"))
    problems.push("--at INDEX and --scenario FILE belong together: which sample, and where to.");
  figureProblems(values, problems);
  if (problems.length > 0) throw new UsageError(problems);
  const targets = (["csv", "svg", "png", "worst", "worst-corner", "scenario"] as const).flatMap((kind) => {
    const path = values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, names);
  const { tolerancesAndTell } = await import("./tolerances-and-tell.ts");
  return tolerancesAndTell(
    { names, merging, options, threads, at, targets, figure: pictureLook(values), json: switches.has("json") },
    terminal,
  );
}

function studyOptions(values: Arguments["values"], problems: string[]): TolerancesOptions {
  const part = /^(\d{1,5})\/(\d{1,5})$/.exec(values.get("part") ?? "1/1");
  const [index, of] = part === null ? [0, 0] : [Number(part[1]), Number(part[2])];
  if (index < 1 || index > of || of > MOST_PARTS)
    problems.push(`--part is I/N with I from 1 to N, N at most ${MOST_PARTS}; received "${values.get("part")}".`);
  return {
    samples: wholeNumber(values, "samples", [1, MOST_SAMPLES], USUAL_OPTIONS.samples, problems),
    seed: wholeNumber(values, "seed", [0, LARGEST_SEED], USUAL_OPTIONS.seed, problems),
    corners: wholeNumber(values, "corners", [0, MOST_CORNERS], USUAL_OPTIONS.corners, problems),
    part: { index, of },
  };
}
