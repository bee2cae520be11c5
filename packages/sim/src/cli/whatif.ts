import { LIMITS, USUAL_WHATIF } from "../study/whatif/study.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { wholeNumber } from "./numbers.ts";
import { figureProblems, MOST_THREADS, pictureLook, pictureOptions, threadsOption } from "./study-options.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

export const whatif: Command = {
  name: "whatif",
  usage: "FILE --x AXIS [--y AXIS] [options]",
  summary: "how the fault ends over a plane of two values, or along one",
  about: [
    "Runs a scenario over a plane of two values and tells where it ends in which way: a load endangered, the SCR beyond its rating, tripping again and again, the SCR kept on, a fuse blown. Simulations go where the outcome changes, so that some hundred of them make a picture of 64 × 64. With --x alone: a sweep with every figure of the verdict.",
    "An axis is a path, a colon and a range: 'crowbar.trip voltage: 14…17 V', 'station supply.fault.slew: 0.5..50 V/ms by decades'. The name of a source or load may stand in front of its values.",
  ],
  options: [
    { name: "x", value: "AXIS", about: "what is varied to the right" },
    { name: "y", value: "AXIS", about: "what is varied upwards" },
    { name: "most", value: "N", about: `simulations of a plane at most: ${USUAL_WHATIF.most} unless told` },
    { name: "points", value: "N", about: `simulations of a sweep: ${USUAL_WHATIF.points} unless told` },
    threadsOption,
    { name: "json", value: null, about: "print everything as JSON instead of the text" },
    { name: "csv", value: "FILE", about: "write a table with a row for each simulation and all its figures" },
    ...pictureOptions,
    { name: "at", value: "X,Y", about: "a point of the plane, for instance '15.2 V, 8 V/ms'; of a sweep one value" },
    { name: "scenario", value: "FILE", about: "write the point of --at as a scenario file; nothing is run then" },
  ],
  statuses: [
    [0, "the study was made, whatever it found"],
    [2, "bad input, or a file that cannot be written"],
  ],
  examples: [
    "railfault whatif hut.yaml --x 'crowbar.trip voltage: 14..17 V' --y 'crowbar.sense filter: 5..500 us by decades' --svg plane.svg",
    "railfault whatif hut.yaml --x 'station supply.limit.current: 5..60 A' --csv sweep.csv",
    "railfault whatif hut.yaml --x 'crowbar.trip voltage: 14..17 V' --at '15.2 V' --scenario point.yaml",
  ],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: whatIfCommand,
};

async function whatIfCommand({ names, values, switches }: Arguments, terminal: Terminal): Promise<number> {
  const [file] = names;
  const problems: string[] = [];
  const x = values.get("x");
  const y = values.get("y") ?? null;
  if (x === undefined) problems.push("--x AXIS says what is varied: --x 'crowbar.trip voltage: 14..17 V'.");
  if (values.has("at") !== values.has("scenario"))
    problems.push("--at and --scenario FILE belong together: which point, and where to.");
  if (values.has("points") && y !== null) problems.push("--points belongs to a sweep; a plane has --most.");
  if (values.has("most") && y === null) problems.push("--most belongs to a plane; a sweep has --points.");
  const most = wholeNumber(values, "most", [LIMITS.most[0], LIMITS.most[1]], USUAL_WHATIF.most, problems);
  const points = wholeNumber(values, "points", [LIMITS.points[0], LIMITS.points[1]], USUAL_WHATIF.points, problems);
  const threads = wholeNumber(values, "threads", [1, MOST_THREADS], 0, problems);
  figureProblems(values, problems);
  if (problems.length > 0 || x === undefined) throw new UsageError(problems);
  const targets = (["csv", "svg", "png", "scenario"] as const).flatMap((kind) => {
    const path = values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, [file]);
  const { whatIfAndTell } = await import("./whatif-and-tell.ts");
  return whatIfAndTell(
    {
      file,
      options: { x, y, most, points },
      threads,
      at: values.get("at") ?? null,
      targets,
      figure: pictureLook(values),
      json: switches.has("json"),
    },
    terminal,
  );
}
