import { parseQuantity } from "../units/index.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { SCHEMES, SIZES } from "./figures.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

/** What `--figure` may be. */
const MATCH_FIGURES = ["matrix", "time-current"] as const;

export const match: Command = {
  name: "match",
  usage: "FILE [options]",
  summary: "which fuse, SCR and wire go together, and why the others fell out",
  about: [
    "Holds every part class and your own parts against the line of a scenario file: what carries the load, what the supply is able to blow, what the SCR stands, what the fuse guards. What keeps all rules is confirmed by a full run.",
    "Your own parts take part with the numbers that stand in the file.",
  ],
  options: [
    {
      name: "load",
      value: "CURRENT",
      about: "largest current in normal service; left out: what the loads draw, on transmit where their class tells",
    },
    {
      name: "drop",
      value: "VOLTAGE",
      about: "largest voltage that may be lost between source and load; left out: only the load's minimum counts",
    },
    {
      name: "fuses",
      value: "NAMES",
      about: "only these classes of fuses take part, beside yours: names or parts of names, with ; between them",
    },
    { name: "scrs", value: "NAMES", about: "only these classes of SCRs, in the same way" },
    {
      name: "wires",
      value: "SIZES",
      about: "only these sizes of the sources' leads: 4 mm2; 6 mm2, or 12 AWG; each of them is run",
    },
    { name: "most", value: "NUMBER", about: "full runs at the most, 1 to 1000 (default 40)" },
    { name: "all", value: null, about: "every reason of every part, instead of the nearest of each kind" },
    { name: "markdown", value: "FILE", about: "write the answer as Markdown" },
    { name: "csv", value: "FILE", about: "write every combination as a table" },
    { name: "json", value: null, about: "print the whole answer as JSON instead of the text" },
    { name: "svg", value: "FILE", about: "write the figure as SVG" },
    { name: "png", value: "FILE", about: "write the figure as PNG" },
    {
      name: "figure",
      value: "FIGURE",
      about:
        "what --svg and --png show: matrix (default; combinations with reasons), time-current (of one combination)",
      words: MATCH_FIGURES,
    },
    {
      name: "choose",
      value: "COMBINATION",
      about:
        "the combination of --figure time-current and of --line, as the answer names it, or its number in the short list (default 1)",
    },
    { name: "line", value: "FILE", about: "write the chosen combination as a scenario file" },
    { name: "size", value: "SIZE", about: "of the figure: page (default), slide, phone", words: SIZES },
    { name: "scheme", value: "SCHEME", about: "colours of the figure: light (default) or dark", words: SCHEMES },
    {
      name: "keep",
      value: "FILE",
      about:
        "keep what was found there; where the file exists already, go on from it (Ctrl-C ends the study with what it has)",
    },
  ],
  statuses: [
    [0, "what stands in the file is sound"],
    [1, "it is not, or only with a heat sink or an inductance, but a combination is"],
    [2, "bad input, or a file that cannot be written"],
    [4, "no combination is sound"],
  ],
  examples: [
    "railfault match hut.yaml",
    'railfault match hut.yaml --load "18 A" --drop "0.5 V" --svg hut.svg',
    'railfault match hut.yaml --fuses "blade; maxi" --markdown hut.md',
    "railfault match hut.yaml --figure time-current --png first.png",
    "railfault match hut.yaml --choose 2 --line second.yaml",
  ],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: runMatch,
};

async function runMatch(given: Arguments, terminal: Terminal): Promise<number> {
  const [file] = given.names;
  const options = optionsOf(given);
  const targets = (["keep", "markdown", "csv", "svg", "png", "line"] as const).flatMap((kind) => {
    const path = given.values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, [file]);
  const text = readInput(file, LARGEST_SCENARIO);
  const { matchAndTell } = await import("./match-and-tell.ts");
  const { values, switches } = given;
  return matchAndTell(
    {
      file,
      text,
      options,
      targets,
      json: switches.has("json"),
      all: switches.has("all"),
      choose: values.get("choose") ?? "1",
      figure: MATCH_FIGURES.find((name) => name === values.get("figure")) ?? "matrix",
      size: SIZES.find((name) => name === values.get("size")) ?? "page",
      scheme: SCHEMES.find((name) => name === values.get("scheme")) ?? "light",
    },
    terminal,
  );
}

function optionsOf({ values }: Arguments) {
  const problems: string[] = [];
  const drawn = values.has("svg") || values.has("png");
  for (const option of ["figure", "size", "scheme"]) {
    if (values.has(option) && !drawn)
      problems.push(`--${option} says what --svg FILE or --png FILE shows; neither was given.`);
  }
  if (values.has("choose") && values.get("figure") !== "time-current" && !values.has("line"))
    problems.push("--choose belongs to --figure time-current or --line FILE; neither was given.");
  const amount = (name: "load" | "drop", dimension: "current" | "voltage", example: string): number | undefined => {
    const text = values.get(name);
    if (text === undefined) return undefined;
    const parsed = parseQuantity(text, dimension);
    if (parsed.ok) return parsed.value;
    problems.push(
      `--${name} "${text}": ${parsed.message} Allowed: ${parsed.allowed ?? `a ${dimension}, for instance ${example}`}.`,
    );
    return undefined;
  };
  const names = (name: string): string[] | undefined =>
    values
      .get(name)
      ?.split(";")
      .map((each) => each.trim())
      .filter((each) => each !== "");
  const load = amount("load", "current", "21 A");
  const drop = amount("drop", "voltage", "0.5 V");
  const most = values.get("most");
  if (most !== undefined && !/^\d{1,6}$/.test(most))
    problems.push(`--most is a whole number from 1 to 1000; received "${most}".`);
  if (problems.length > 0) throw new UsageError(problems);
  const [fuses, scrs, wires] = [names("fuses"), names("scrs"), names("wires")];
  return {
    ...(load === undefined ? {} : { load }),
    ...(drop === undefined ? {} : { drop }),
    ...(fuses === undefined ? {} : { fuses }),
    ...(scrs === undefined ? {} : { scrs }),
    ...(wires === undefined ? {} : { wires }),
    ...(most === undefined ? {} : { most: Number(most) }),
  };
}
