import { parseArgs } from "node:util";

export interface BenchOptions {
  /** Letters of the cases, `a` … `g`. */
  readonly cases: string;
  /** Runs after the first of each case; null: as many as each case says. */
  readonly repeat: number | null;
  /** Random faults of case e. */
  readonly faults: number;
  /** Samples of case g. */
  readonly samples: number;
  readonly workers: number;
  /** Whether the random faults are run again at 1e-10. */
  readonly check: boolean;
  readonly peers: boolean;
  readonly browser: boolean;
  /** Whether to tell where the time of each case goes. */
  readonly profile: boolean;
  readonly form: "text" | "markdown" | "json";
  /** Whether the table goes into the documents too. */
  readonly write: boolean;
}

export const benchUsage = `npm run bench -- [options]

  --cases abc      only these: a blown fuse, b ten seconds of hiccup, c two hours of creep, d an hour of hiccup,
                   e random faults, f lines of 1, 4 and 16 loads,
                   g tolerances and a what-if plane
  --repeat N       runs after the first of each case, of which the median is told
  --faults N       random faults of case e (10000)
  --samples N      samples of case g (10000)
  --workers N      threads of cases e and g (2)
  --check          case e again at a tolerance of 1e-10: is every difference a close call?
  --peers          the same lines by general solvers: CVODE in C and SciPy, where gcc, libsundials-dev, python3-scipy are installed
  --browser        the same cases in a headless browser, through the pages' worker
  --profile        where the time of each case goes, by source file
  --markdown       as tables of a document
  --write          puts these tables into packages/sim/docs/speed.md
  --json           everything as data
  --help           this text
`;

/** Reads the words behind the command; a text says what is wrong with them, or that they ask for help. */
export function readBenchOptions(args: readonly string[]): BenchOptions | { readonly problem: string | null } {
  const flags = ["check", "peers", "browser", "profile", "write", "markdown", "json", "help"] as const;
  const numbers = ["repeat", "faults", "samples", "workers"] as const;
  let values: Record<string, string | boolean | undefined>;
  try {
    ({ values } = parseArgs({
      args: [...args],
      options: {
        cases: { type: "string" },
        ...Object.fromEntries(numbers.map((name) => [name, { type: "string" as const }])),
        ...Object.fromEntries(flags.map((name) => [name, { type: "boolean" as const }])),
      },
    }));
  } catch (error) {
    return { problem: (error as Error).message };
  }
  if (values.help) return { problem: null };
  const { cases = "abcdefg" } = values;
  if (!/^[a-g]+$/.test(String(cases))) return { problem: `--cases takes letters from a to g, received ${cases}` };
  for (const name of numbers) {
    const value = values[name];
    if (value !== undefined && !/^[1-9]\d{0,6}$/.test(String(value)))
      return { problem: `--${name} takes a whole number of at least 1, received ${value}` };
  }
  if (values.markdown && values.json) return { problem: "--markdown and --json exclude each other" };
  return {
    cases: String(cases),
    repeat: values.repeat === undefined ? null : Number(values.repeat),
    faults: Number(values.faults ?? 10_000),
    samples: Number(values.samples ?? 10_000),
    workers: Number(values.workers ?? 2),
    check: values.check === true,
    peers: values.peers === true,
    browser: values.browser === true,
    profile: values.profile === true,
    write: values.write === true,
    form: values.markdown ? "markdown" : values.json ? "json" : "text",
  };
}
