import { SCHEME_WORDS } from "../scenario/schema/scheme-words.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { SCHEMES, SIZES } from "./figures.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";
import { checkTargets } from "./write-output.ts";

/** What `--figure` may be. */
const COMPARE_FIGURES = ["multiples", "overlay"] as const;

export const compare: Command = {
  name: "compare",
  usage: "FILE [options]",
  summary: "schemes of protection side by side on the same fault",
  about: [
    "Runs the line of a scenario file as it stands and each of its variants on the identical fault, and prints what became of load, fuse and protector, what must be replaced, what each costs in normal service, and what sets them apart. The best stands first; the guide tells the rule.",
    `A file without variants is compared with ready-made schemes: ${SCHEME_WORDS.join(", ")}.`,
  ],
  options: [
    {
      name: "schemes",
      value: "NAMES",
      about:
        "which take part beside the line as it stands: variants of the file and ready-made schemes, with commas between them",
    },
    { name: "json", value: null, about: "print the comparison as JSON instead of the text" },
    { name: "csv", value: null, about: "print it as a table of comma-separated values instead" },
    { name: "markdown", value: null, about: "print it as Markdown instead" },
    { name: "svg", value: "FILE", about: "write the figure as SVG" },
    { name: "png", value: "FILE", about: "write the figure as PNG, 1920 pixels wide (780 with --size phone)" },
    {
      name: "figure",
      value: "FIGURE",
      about: "what --svg and --png show: multiples (default; small figures with the same axes), overlay (all in one)",
      words: COMPARE_FIGURES,
    },
    {
      name: "write",
      value: "NAME",
      about: "with --to: the variant or ready-made scheme to write as a scenario file of its own",
    },
    { name: "to", value: "FILE", about: "where --write writes" },
    { name: "size", value: "SIZE", about: "of the figure: page (default), slide, phone", words: SIZES },
    { name: "scheme", value: "SCHEME", about: "colours of the figure: light (default) or dark", words: SCHEMES },
  ],
  statuses: [
    [0, "at least one of the lines keeps the load safe and nothing beyond its rating"],
    [1, "none of them does"],
    [2, "bad input, or a file that cannot be written"],
    [3, "none of the lines has a verdict, or the comparison was ended early"],
  ],
  examples: [
    "railfault compare hut.yaml",
    'railfault compare hut.yaml --schemes "nothing, clamp, SCR with fuse"',
    "railfault compare hut.yaml --figure overlay --svg hut.svg",
    "railfault compare hut.yaml --markdown > hut.md",
    "railfault compare hut.yaml --write relay --to relay.yaml",
  ],
  names: { what: "The scenario file", least: 1, most: 1 },
  run: runCompare,
};

async function runCompare(given: Arguments, terminal: Terminal): Promise<number> {
  const [file] = given.names;
  const { values, switches } = given;
  refuseMisuse(given);
  const targets = (["svg", "png", "to"] as const).flatMap((kind) => {
    const path = values.get(kind);
    return path === undefined ? [] : [{ kind, option: `--${kind}`, path }];
  });
  checkTargets(targets, [file]);
  const text = readInput(file, LARGEST_SCENARIO);
  // Only now: whoever mistyped an option need not wait for the simulator.
  const { compareAndTell } = await import("./compare-and-tell.ts");
  return compareAndTell(
    {
      file,
      text,
      schemes: namesOf(values.get("schemes")),
      targets,
      form: (["json", "csv", "markdown"] as const).find((form) => switches.has(form)) ?? "text",
      figure: COMPARE_FIGURES.find((name) => name === values.get("figure")) ?? "multiples",
      write: values.get("write") ?? null,
      size: SIZES.find((name) => name === values.get("size")) ?? "page",
      scheme: SCHEMES.find((name) => name === values.get("scheme")) ?? "light",
    },
    terminal,
  );
}

function refuseMisuse({ values, switches }: Arguments): void {
  const problems: string[] = [];
  const forms = ["json", "csv", "markdown"].filter((form) => switches.has(form)).map((form) => `--${form}`);
  if (forms.length > 1) problems.push(`${forms.join(" and ")} exclude each other: one of them is printed.`);
  const drawn = values.has("svg") || values.has("png");
  for (const option of ["figure", "size", "scheme"]) {
    if (values.has(option) && !drawn)
      problems.push(`--${option} says how --svg FILE or --png FILE looks; neither was given.`);
  }
  if (values.has("write") !== values.has("to"))
    problems.push("--write NAME and --to FILE belong together: which line, and where to.");
  if (problems.length > 0) throw new UsageError(problems);
}

/** Names may hold commas inside quotes of their own. */
function namesOf(text: string | undefined): readonly string[] | null {
  if (text === undefined) return null;
  const parts = text.match(/"[^"]*"|[^,]+/g) ?? [];
  return parts
    .map((part) =>
      part
        .trim()
        .replace(/^"(.*)"$/, "$1")
        .trim(),
    )
    .filter((part) => part !== "");
}
