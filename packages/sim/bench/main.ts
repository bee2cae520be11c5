import { readFileSync, writeFileSync, writeSync } from "node:fs";
import { join } from "node:path";
import { measureInBrowser } from "./browser.ts";
import { allCases } from "./cases.ts";
import { runFaults } from "./faults/threads.ts";
import { type Measured, measure } from "./measure.ts";
import { type BenchOptions, benchUsage, readBenchOptions } from "./options.ts";
import { findPeers, type Peers } from "./peers.ts";
import { profileOf } from "./profile.ts";
import { type Findings, machine, report } from "./report.ts";
import { measureStudies } from "./studies.ts";

/** In the browser each fault is read, run, judged and handed over: fewer tell as much. */
const FAULTS_IN_BROWSER = 500;

const tell = (line: string) => writeSync(2, `${line}\n`);

async function bench(options: BenchOptions): Promise<Findings> {
  const cases = allCases().filter(({ id }) => options.cases.includes(id.charAt(0)));
  const peers = options.peers ? findPeers() : null;
  const missing = [...(peers?.missing ?? [])];
  try {
    const measured = cases.flatMap((entry): Measured[] => {
      tell(`${entry.id}: ${entry.what} …`);
      const repeat = options.repeat ?? entry.repeat;
      const { measured: own, run } = measure(entry, repeat);
      // Beside each other in time: what else the machine does then hurts all alike.
      return [own, ...(peers?.measure(entry, run, repeat) ?? [])];
    });
    const faults = options.cases.includes("e") ? await randomFaults(options) : null;
    const studies = options.cases.includes("g") ? await manyRuns(options) : null;
    const inBrowser = options.browser
      ? await measureInBrowser(cases, options.repeat, faults ? Math.min(options.faults, FAULTS_IN_BROWSER) : 0)
      : [];
    if (inBrowser === null) missing.push("the browser: install chromium or set CHROMIUM_PATH");
    return {
      date: new Date().toISOString().slice(0, 10),
      machine: machine(),
      versions: versionsOf(peers),
      missing,
      leftOut: allIds().filter((id) => !options.cases.includes(id.charAt(0))),
      measured,
      faults,
      studies,
      profiles: options.profile ? cases.map((entry) => profileOf(entry)) : [],
      browser: inBrowser ?? [],
    };
  } finally {
    peers?.close();
  }
}

const allIds = () => [...allCases().map(({ id }) => id), "e", "g"].sort();

async function randomFaults({ faults, workers, check }: BenchOptions): Promise<Findings["faults"]> {
  tell(`e: ${faults} random faults …`);
  const cold = await runFaults(faults, workers, false, true);
  return { workers, cold, warm: await runFaults(faults, workers, check) };
}

async function manyRuns({ samples, workers }: BenchOptions): Promise<Findings["studies"]> {
  tell(`g: ${samples} samples …`);
  return measureStudies(samples, workers);
}

/** Between the two remarks of the document that say so. */
function intoDocument(tables: string): void {
  const path = join(import.meta.dirname, "../docs/speed.md");
  const text = readFileSync(path, "utf8");
  const [begin, end] = ["<!-- tables: begin -->\n", "<!-- tables: end -->"].map((mark) => text.indexOf(mark));
  if (begin < 0 || end < begin) throw new Error("speed.md has no place for the tables.");
  const before = text.slice(0, text.indexOf("\n", begin) + 1);
  writeFileSync(path, `${before}\n${tables}\n${text.slice(end)}`);
}

function versionsOf(peers: Peers | null): Record<string, string> {
  return { Node: process.versions.node, V8: process.versions.v8, ...peers?.versions };
}

async function main(): Promise<number> {
  const options = readBenchOptions(process.argv.slice(2));
  if ("problem" in options) {
    writeSync(
      options.problem === null ? 1 : 2,
      `${options.problem === null ? "" : `${options.problem}\n\n`}${benchUsage}`,
    );
    return options.problem === null ? 0 : 2;
  }
  const found = await bench(options);
  console.log(
    options.form === "json" ? JSON.stringify(found, null, 2) : report(found, options.form === "markdown").trimEnd(),
  );
  if (options.write) intoDocument(report(found, true));
  // A run that failed, or a difference that nobody was warned of, is no result.
  const silent = found.faults?.warm.differences.some(({ closeCall }) => closeCall === null) ?? false;
  return (found.faults?.warm.failed.length ?? 0) > 0 || silent ? 1 : 0;
}

process.exitCode = await main().catch((error: Error) => {
  writeSync(2, `${error.message}\n`);
  return 1;
});
