import type { Trace } from "../trace/types.ts";
import type { ResultDocument, ResultOrigin } from "./result-document.ts";
import type { Answered, Refused } from "./run-scenario.ts";

/** Version of the form that `docs/result-format.md` describes; the number goes up whenever a reader of the old form could stumble. */
export const RESULT_FORMAT: ResultDocument["format"] = "railfault-result 1";

/**
 * The whole result of a run as plain data, ready for JSON: `docs/result-format.md` tells what stands where. SI units; a number that is not
 * finite becomes null.
 *
 * @param result of `runScenario`
 * @param origin what it is a result of
 */
export function resultData(result: Refused | Answered, origin: ResultOrigin): ResultDocument {
  const head = { format: RESULT_FORMAT, ...origin };
  if (result.kind === "refused") {
    return { ...head, status: "refused", exitStatus: 2, issues: result.issues };
  }
  const { run, verdict, parsed } = result;
  const { scenario, trace: _trace, samples: _samples, ...found } = run;
  return {
    ...head,
    status: verdict.kind === "verdict" ? "judged" : "no verdict",
    exitStatus: verdict.exitStatus,
    about: parsed.about,
    issues: verdict.warnings,
    verdict,
    run: found,
    scenario,
    origins: parsed.origins,
    fuseFits: parsed.fits.map(({ path, label, fit }) => ({
      path,
      label,
      worstDeviation: fit.worstDeviation,
      insideGates: fit.insideGates,
      points: fit.points,
    })),
  };
}

/**
 * The same as JSON text, in pieces: a long trace would not fit into one string.
 *
 * @param trace the waveforms, one array a column; null leaves them out
 * @example for (const piece of resultJson(resultData(result, origin), null)) process.stdout.write(piece);
 */
export function* resultJson(data: ResultDocument, trace: Trace | null): Generator<string> {
  const text = JSON.stringify(data, null, 2);
  if (trace === null) {
    yield `${text}\n`;
    return;
  }
  yield `${text.slice(0, text.lastIndexOf("\n"))},\n  "trace": {\n    "columns": [\n`;
  yield column("time_s", "s", trace.time);
  for (const { name, unit, values } of trace.columns) yield `,\n${column(name, unit, values)}`;
  yield "\n    ]\n  }\n}\n";
}

function column(name: string, unit: string, values: Float64Array): string {
  return `      {"name": ${JSON.stringify(name)}, "unit": ${JSON.stringify(unit)}, "values": ${JSON.stringify(Array.from(values))}}`;
}
