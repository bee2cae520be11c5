import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Run } from "../src/index.ts";
import { disagreement, type Told, toldBy } from "./agreement.ts";
import type { Case } from "./cases.ts";
import { flattened } from "./flat.ts";
import { type Measured, median } from "./measure.ts";

const sources = join(import.meta.dirname, "peers");
/** Debian's own first: it is the one that has the package. */
const pythons = ["/usr/bin/python3", "python3"];
const TOLERANCE = 1e-6;

interface Answer extends Told {
  readonly version: string;
  readonly seconds: readonly number[];
  readonly peakMegabytes: number;
  readonly work: Measured["work"];
}

/** What stands beside the simulator, as far as it is installed. */
export interface Peers {
  /** Runs a case by each peer; the first that does not tell our own story is an error. */
  measure(entry: Case, run: Run, repeat: number): Measured[];
  /** Versions, by name. */
  readonly versions: Record<string, string>;
  /** What is not there, with the reason. */
  readonly missing: readonly string[];
  close(): void;
}

/** @throws Error where gcc and CVODE are there and the sources do not compile */
export function findPeers(): Peers {
  const folder = mkdtempSync(join(tmpdir(), "railfault-bench-"));
  const missing: string[] = [];
  const versions: Record<string, string> = {};
  const program = compile(folder);
  if (program === null) missing.push("CVODE: no gcc, or no libsundials-dev");
  const python = pythons.find((each) => succeeds(each, ["-c", "import scipy.integrate"])) ?? null;
  if (python === null) missing.push("SciPy: no python3 with python3-scipy");
  const best = new Map<string, readonly string[]>();

  function call(name: string, file: string, extra: readonly string[], repeat: number): Answer {
    const [command, first] = name === "CVODE" ? [program ?? "", []] : [python ?? "", [join(sources, "scipy_peer.py")]];
    // One thread, as the simulator has: libraries of linear algebra would take all of them.
    const env = { ...process.env, OMP_NUM_THREADS: "1", OPENBLAS_NUM_THREADS: "1", PYTHONDONTWRITEBYTECODE: "1" };
    const words = [...first, file, "--repeat", String(repeat), ...extra];
    const answer = JSON.parse(execFileSync(command, words, { encoding: "utf8", env, maxBuffer: 256 << 20 })) as Answer;
    versions[name] = answer.version;
    return answer;
  }

  function measured(
    entry: Case,
    run: Run,
    by: string,
    file: string,
    extra: readonly string[],
    repeat: number,
  ): Measured {
    const name = by.split(",")[0] ?? by;
    const answer = call(name, file, extra, repeat);
    const difference = disagreement(toldBy(run), answer);
    if (difference !== null)
      throw new Error(`No time is compared: ${by} disagrees in case ${entry.id}: ${difference}.`);
    const [cold, ...warm] = answer.seconds.map((each) => 1000 * each);
    return {
      id: entry.id,
      what: entry.what,
      by,
      coldMs: cold ?? null,
      warmMs: median(warm.length > 0 ? warm : [cold ?? Number.NaN]),
      warmWallMs: null,
      repeated: Math.max(1, warm.length),
      work: { ...answer.work, events: answer.events.length },
      peakMegabytes: answer.peakMegabytes,
      addedMegabytes: null,
    };
  }

  /** Of its linear solvers and first steps the ones that are fastest here; of the hour's, those of ten seconds. */
  function bestOf(entry: Case, file: string): readonly string[] {
    const like = entry.id.startsWith("d") ? "b" : entry.id;
    const known = best.get(like);
    if (known) return known;
    const tries = ["dense", "klu"].flatMap((solver) =>
      ["automatic", "hint"].map((first) => ["--solver", solver, "--first", first]),
    );
    const times = tries.map((words) => median(call("CVODE", file, words, 5).seconds));
    const found = tries[times.indexOf(Math.min(...times))];
    best.set(like, found);
    return found;
  }

  return {
    versions,
    missing,
    measure(entry, run, repeat) {
      const file = join(folder, `${entry.id}.txt`);
      writeFileSync(file, flattened(run.scenario, run.operatingPoint, TOLERANCE));
      const out: Measured[] = [];
      const long = entry.id === "d";
      if (program !== null) {
        const words = long && !best.has("b") ? ["--solver", "dense"] : bestOf(entry, file);
        const how = words.filter((word) => !word.startsWith("--")).join(", ");
        out.push(measured(entry, run, `CVODE, ${how}`, file, words, long ? 1 : repeat + 1));
      }
      // An hour of hiccup would take SciPy about as long.
      if (python !== null && !long)
        for (const method of ["Radau", "LSODA"])
          out.push(measured(entry, run, `SciPy, ${method}`, file, ["--method", method], Math.min(repeat, 3)));
      return out;
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** The program of CVODE in `folder`, with the sparse solver where that is installed too; null without compiler or library. */
export function compile(folder: string): string | null {
  if (!succeeds("gcc", ["--version"])) return null;
  const header = spawnSync("gcc", ["-E", "-x", "c", "-"], { input: "#include <cvode/cvode.h>\n" });
  if (header.status !== 0) return null;
  const files = readdirSync(sources).filter((name) => name.endsWith(".c"));
  const libraries = ["cvode", "nvecserial", "sunlinsoldense", "sunmatrixdense", "sunmatrixsparse"];
  const program = join(folder, "cvode");
  const build = (flags: readonly string[], more: readonly string[]) =>
    spawnSync(
      "gcc",
      [
        "-O3",
        "-march=native",
        "-Wall",
        "-Wextra",
        "-Werror",
        ...flags,
        "-o",
        program,
        ...files.map((name) => join(sources, name)),
      ].concat(
        [...libraries, ...more].map((name) => `-lsundials_${name}`),
        "-lm",
      ),
      { encoding: "utf8" },
    );
  if (build(["-DWITH_KLU", "-I/usr/include/suitesparse"], ["sunlinsolklu"]).status === 0) return program;
  const plain = build([], []);
  if (plain.status !== 0) throw new Error(`The peer in C does not compile:\n${plain.stderr}`);
  return program;
}

function succeeds(command: string, words: readonly string[]): boolean {
  return spawnSync(command, words, { stdio: "ignore" }).status === 0;
}
