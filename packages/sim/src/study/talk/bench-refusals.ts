import { InvalidInput, type Issue } from "../../issue/issue.ts";
import type { Run } from "../../model/result.ts";
import { judge } from "../../verdict/judge.ts";
import type { Finding } from "../../verdict/types.ts";
import { partName, show, the } from "../../verdict/words.ts";
import type { BenchSetting } from "./bench-line.ts";
import { amperes, volts } from "./meter.ts";

const issue = (code: string, path: string, message: string, more: Partial<Issue> = {}): Issue => ({
  severity: "error",
  code,
  path,
  message,
  received: null,
  allowed: null,
  hint: null,
  position: null,
  ...more,
});

export const noProtector: Issue = issue(
  "no-protector",
  "crowbar",
  "There is no protector in this line that could be tried on a bench.",
  {
    allowed: "a crowbar, a series switch or a clamp; what is built into a supply is tried with the supply",
    hint: "write `crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}`",
  },
);

export const neverTrips = ({ startVoltage, endVoltage }: BenchSetting): Issue =>
  issue("never-trips", "crowbar", "This protector does not trip from a bench source that is turned up slowly.", {
    received: `nothing from ${volts(startVoltage)} to ${volts(endVoltage)}`,
    allowed: "a trip voltage that the protected side reaches",
  });

/** Why the line cannot stand on the bench at all; what is no such reason is thrown again. */
export function cannotStart(error: unknown): readonly Issue[] {
  if (!(error instanceof InvalidInput)) throw error;
  return error.issues.map(({ message, hint }) =>
    issue("test-not-run", "", `The test itself cannot be simulated: on the bench, ${message}`, { hint }),
  );
}

/** Everything in a simulated test that would hurt a part of the line; empty where the test spares them all. */
export function hurts(run: Run, { currentLimit }: BenchSetting): readonly Issue[] {
  const verdict = judge(run, { warnings: [], origins: [], prospective: null });
  if (verdict.kind !== "verdict")
    return [
      issue("test-not-run", "", `The test itself cannot be simulated: ${verdict.reason}.`, { hint: verdict.remedy }),
    ];
  const fuses = run.fuses.filter(({ state, meltsAfter }) => state !== "intact" || meltsAfter !== null);
  const melting = fuses.map(({ subject, label }) => `${partName(subject)} (${label})`);
  return [
    ...melting.map((name) =>
      issue(
        "test-melts-fuse",
        "main fuse",
        `The test would melt the ${name}: ${run.crowbar === null ? `the dummy load asks for a limit of ${amperes(currentLimit)}` : `with a limit below ${amperes(currentLimit)} the SCR may not stay on`}.`,
        {
          received: `a fuse that ${amperes(currentLimit)} melt`,
          allowed: `for the test, a fuse that carries ${amperes(currentLimit)} for ever`,
          hint: "make the card from a copy of the file with a larger fuse, put that in for the test only, and the right one back before all else",
        },
      ),
    ),
    ...verdict.findings
      .filter(({ severity, subject }) => isHurt(severity) && !fuses.some((fuse) => partName(fuse.subject) === subject))
      .map((finding) =>
        issue(
          "test-hurts",
          PLACES.includes(finding.subject) ? finding.subject : "",
          `The test would hurt ${the(finding.subject)}, so there is no card. In the simulated test: ${finding.sentence}`,
          { hint: remedyFor(finding, currentLimit) },
        ),
      ),
  ];
}

/** Subjects of findings that are keys of the file as well. */
const PLACES: readonly string[] = ["crowbar", "clamp", "series switch"];

const isHurt = (severity: Finding["severity"]): boolean =>
  severity === "beyond" || severity === "unknown" || severity === "used up";

function remedyFor({ subject, quantity }: Finding, currentLimit: number): string {
  if (subject === "clamp")
    return "find its breakdown by itself, out of the line, at 1 mA through a large resistor; a clamp with a larger energy rating can be tried in the line";
  if (subject === "crowbar")
    return quantity.startsWith("current rise")
      ? "give its branch more inductance, or the protected side a smaller capacitor: every trip in service would hurt it as well"
      : `take an SCR or a heat sink that stands ${show(currentLimit, "current")} for a while`;
  return "mend that in the line first: a trip in service would hurt it as well";
}
