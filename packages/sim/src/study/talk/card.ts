import type { Issue } from "../../issue/issue.ts";
import type { Run } from "../../model/result.ts";
import { checkScenario } from "../../report/run-scenario.ts";
import { placeIssues, type ScenarioResult } from "../../scenario/index.ts";
import type { Scenario } from "../../scenario/types.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { show } from "../../verdict/words.ts";
import type { BenchSetting } from "./bench-line.ts";
import { type BenchPass, benchPass, impossible } from "./bench-pass.ts";
import { cannotStart, hurts, neverTrips, noProtector } from "./bench-refusals.ts";
import { benchRun, readingsOf, tripIndex, tripPoints } from "./bench-run.ts";
import { dummyOf, LIMIT_OFF, settingOf, whyLimit } from "./bench-setting.ts";
import { benchSteps } from "./bench-steps.ts";
import { type BenchTrip, benchTrip } from "./bench-trip.ts";
import { benchChecks, strainOf } from "./bench-words.ts";
import type { BenchCard, TalkRefused } from "./types.ts";

/**
 * How to try the protector of a scenario safely on the bench, with what meters will show: computed by simulating that very line with a
 * current-limited source that is turned up slowly in the place of its sources, and a resistor in the place of its loads; once as it stands
 * and once at each end of what passes.
 *
 * @param text of the scenario file
 * @param file its name, for the places in messages
 * @returns the card, SI units; or every problem of the file, also that it has no protector that could be tried, that no trip voltage passes, or
 * that the test would hurt a part
 * @example const found = benchCard(text, "hut.yaml"); if (found.kind === "card") console.log(renderCard(found.card));
 */
export function benchCard(
  text: string,
  file: string,
): { readonly kind: "card"; readonly card: BenchCard } | TalkRefused {
  const parsed = checkScenario(text, file);
  const { scenario } = parsed;
  const refused = (issues: readonly Issue[]): TalkRefused => ({
    kind: "refused",
    issues: placeIssues(issues, text, file),
  });
  if (scenario === null) return { kind: "refused", issues: parsed.issues };
  const trip = benchTrip(parsed, scenario);
  if (trip === null) return { kind: "refused", issues: [noProtector] };
  const pass = benchPass(parsed, scenario, trip);
  const none = impossible(parsed, trip, pass);
  if (none !== null) return refused([none]);
  const setting = settingOf(scenario, trip, pass);
  const runs = runsOf(scenario, trip, pass, setting);
  if (runs.kind === "refused") return refused(runs.issues);
  const at = tripIndex(runs.runs[0], trip.kind);
  if (at === null) return refused([neverTrips(setting)]);
  return { kind: "card", card: cardOf(parsed, scenario, { trip, pass, setting, at, runs: runs.runs }) };
}

/** The runs of a test that spares every part. */
function runsOf(
  scenario: Scenario,
  trip: BenchTrip,
  pass: BenchPass,
  setting: BenchSetting,
): { readonly kind: "runs"; readonly runs: readonly Run[] } | TalkRefused {
  const runs: Run[] = [];
  for (const at of tripPoints(trip, pass)) {
    // What a source's limit lets through beyond what it is set to, all of it goes through a clamp.
    for (const off of trip.kind === "clamp" ? [LIMIT_OFF, 0] : [0]) {
      const real = { ...setting, currentLimit: setting.currentLimit + off };
      let run: Run;
      try {
        run = benchRun(scenario, trip.kind, real, at);
      } catch (error) {
        return { kind: "refused", issues: cannotStart(error) };
      }
      const issues = hurts(run, real);
      if (issues.length > 0) return { kind: "refused", issues };
      if (off === 0) runs.push(run);
    }
  }
  return { kind: "runs", runs };
}

interface Tested {
  readonly trip: BenchTrip;
  readonly pass: BenchPass;
  readonly setting: BenchSetting;
  readonly runs: readonly Run[];
  /** Row of the first run in which the protector trips. */
  readonly at: number;
}

function cardOf(parsed: ScenarioResult, scenario: Scenario, { trip, pass, setting, runs, at }: Tested): BenchCard {
  const dummy = dummyOf(setting);
  const readings = readingsOf(runs, trip, at);
  const { startVoltage, endVoltage, currentLimit, slew } = setting;
  return {
    title: scenario.title === "" ? "A 12 V line" : scenario.title,
    protector: `${trip.label}, ${trip.kind === "clamp" ? "breaks down at" : "set to"} ${show(trip.nominal, "voltage", 4)}`,
    source: { startVoltage, endVoltage, currentLimit, slew, why: whyLimit(parsed, scenario, trip, setting) },
    dummy,
    steps: benchSteps({ scenario, trip, setting, dummy }),
    readings,
    checks: benchChecks(scenario, trip, pass, setting, readings),
    strain: strainOf(runs[0]),
    assumptions: [
      "The bench source is of the class “bench supply 3 A, current limited”, with leads of 1 m and 2.5 mm² on both sides (assumed).",
      ...(trip.about === null ? [] : [trip.about]),
      ...(trip.kind === "clamp"
        ? ["Where a clamp begins says nothing of the pulse that it stands: this test tries the one and not the other."]
        : []),
      "Limits at twice the simulated go up to the next 0.1 V, at an SCR to the next 0.5 V, and are no smaller than 0.1 V (drop), 0.5 V (behind a switch), 1 V (SCR): common practice, no source.",
      "Tried are threshold and holding alone: speed, surge, fuse and wires are the verdict's.",
      "The meters' own error comes on top: 1 % of a usual one is 0.15 V at 15 V (common practice, no source).",
    ],
    cautions: CAUTIONS,
  };
}
