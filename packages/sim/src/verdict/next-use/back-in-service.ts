import type { Run } from "../../model/result.ts";
import { barsOf } from "../crowbar.ts";
import type { Finding } from "../types.ts";
import { capital, the } from "../words.ts";
import { type Step, step } from "./order.ts";

/** Resets, then the protector tried before a load goes back on, then batteries, supplies and loads. */
export function backInService(run: Run, findings: readonly Finding[]): readonly Step[] {
  const { crowbar, seriesSwitch, clamp, sources, loads } = run.scenario;
  const tries = crowbar !== null || seriesSwitch !== null || clamp !== null;
  const batteries = sources.filter(({ kind }) => kind === "battery").map(({ name }) => the(name));
  const supplies = sources.filter(({ kind }) => kind === "supply").map(({ name }) => the(name));
  const panels = sources.filter(({ kind }) => kind === "panel").map(({ name }) => the(name));
  const fused = sources.some(({ kind, lead }) => kind === "battery" && lead.fuse !== null);
  const load = loads.length === 1 ? the(loads[0].name) : "the loads";
  return [
    ...resets(run, findings),
    ...(tries
      ? [step("try", `Try the protector with a newly made bench test card; ${load} and all sources stay off.`)]
      : []),
    ...(batteries.length === 0
      ? []
      : [
          step(
            "reconnect",
            `Connect ${batteries.join(" and ")} again, ${fused ? "fuse out, plus first, then minus, then the fuse" : "plus first and minus last"}; ${load} still off.`,
          ),
        ]),
    ...(panels.length === 0 ? [] : [step("reconnect", `Connect ${panels.join(" and ")} again.`)]),
    step(
      "switch on",
      `${supplies.length === 0 ? "Measure" : `Switch ${supplies.join(" and ")} on and measure`} the voltage without ${load}, then with ${loads.length === 1 ? "it" : "them"}, and only then leave the line.`,
    ),
    ...sleeping(run),
  ];
}

function resets(run: Run, findings: readonly Finding[]): readonly Step[] {
  const steps: string[] = [];
  for (const { name, stateAtEnd } of run.sources)
    if (stateAtEnd === "latched off")
      steps.push(`${the(name)} has latched off: leave it off until that has cleared, as its sheet tells.`);
  for (const { subject, spec, found } of barsOf(run))
    if (found.firings.length > 0 && spec.variant === "held" && !found.failedShort)
      steps.push(`Reset ${the(subject)}: its gate is kept on until then.`);
  const own = run.seriesSwitch;
  const replaced = findings.some(({ subject, severity }) => subject === "series switch" && severity === "beyond");
  if (own !== null && own.starts.length > 0 && run.scenario.seriesSwitch?.reclose === null && !replaced)
    steps.push("Reset the series switch: it stays open until then.");
  return steps.map((sentence) => step("reset", capital(sentence)));
}

function sleeping(run: Run): readonly Step[] {
  return run.scenario.loads.flatMap((load) => {
    const found = run.loads.find(({ name }) => name === load.name);
    return load.dropOut?.comesBack === "by hand" && found?.sleepingAtEnd === true
      ? [step("switch on", `Switch ${the(load.name)} on again at its place: it does not come back by itself.`)]
      : [];
  });
}
