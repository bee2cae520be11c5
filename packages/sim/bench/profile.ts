import { Session } from "node:inspector";
import { posix } from "node:path";
import { type Case, scenarioOf } from "./cases.ts";
import { runOnce } from "./measure.ts";

/** Share of the samples of a case that fell into each source file, largest first. */
export interface Profile {
  readonly id: string;
  readonly samples: number;
  readonly shares: readonly { readonly where: string; readonly share: number }[];
}

/** Time that a profile is taken over, after as much uncounted, ms. */
const DURATION = 3000;
const LEAST_SHARE = 0.01;

/** Where the time of warm runs goes. Inlined functions count where they were inlined. */
export function profileOf(entry: Case, duration = DURATION): Profile {
  const scenario = scenarioOf(entry);
  const runFor = (milliseconds: number) => {
    const begin = performance.now();
    do runOnce(scenario);
    while (performance.now() - begin < milliseconds);
  };
  runFor(duration);
  const session = new Session();
  session.connect();
  const counts = new Map<string, number>();
  try {
    session.post("Profiler.enable");
    session.post("Profiler.setSamplingInterval", { interval: 200 });
    session.post("Profiler.start");
    runFor(duration);
    session.post("Profiler.stop", (_, { profile }) => {
      for (const { callFrame, hitCount = 0 } of profile.nodes) {
        const where = placeOf(callFrame.url, callFrame.functionName);
        if (where !== null) counts.set(where, (counts.get(where) ?? 0) + hitCount);
      }
    });
  } finally {
    session.disconnect();
  }
  const samples = [...counts.values()].reduce((a, b) => a + b, 0);
  const shares = [...counts]
    .map(([where, hits]) => ({ where, share: hits / samples }))
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share);
  return { id: entry.id, samples, shares };
}

/** The file below the library's sources; collecting garbage; null for the bench itself and idle time. */
function placeOf(url: string, name: string): string | null {
  const [, below] = url.split("/packages/sim/src/");
  if (below !== undefined) return posix.normalize(below.replace(/[?#].*$/, ""));
  if (name === "(garbage collector)") return "collecting garbage";
  return null;
}
