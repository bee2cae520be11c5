import type { Run } from "../../model/result.ts";
import { clampsOf } from "../../verdict/clamp.ts";
import { barsOf } from "../../verdict/crowbar.ts";
import { isBeyond } from "../../verdict/exit-status.ts";
import type { Judged } from "../../verdict/types.ts";
import { the } from "../../verdict/words.ts";
import type { Replaced } from "./types.ts";

/**
 * What must be replaced or looked at before the next use, beside what failed: the same as the verdict's list says in sentences, with what
 * each is worth to a comparison.
 */
export function hurtParts(run: Run, { findings, loads }: Judged): readonly Replaced[] {
  const of = (subject: string) => findings.filter((finding) => finding.subject === subject);
  const isHurt = (subject: string): boolean => of(subject).some(isBeyond);
  const replace = (part: string, weight: Replaced["weight"]): Replaced => ({ part, step: "replace", weight });
  const check = (part: string, weight: Replaced["weight"]): Replaced => ({ part, step: "check", weight });
  const { sources, loads: written } = run.scenario;
  return [
    ...run.fuses.filter(({ meltTime }) => meltTime !== null).map(({ label }) => replace(label, 1)),
    ...barsOf(run).flatMap(({ subject, found }) => {
      const scr = subject === "crowbar" ? "crowbar's SCR" : `SCR of ${the(subject)}`;
      if (found.failedShort || isHurt(subject)) return [replace(scr, 2)];
      return of(subject).some(({ severity }) => severity === "used up") ? [check(scr, 2)] : [];
    }),
    ...clampsOf(run).flatMap(({ subject, found }) =>
      found.failedShort || isHurt(subject) ? [replace(subject, 2)] : [],
    ),
    ...(of("series switch").some(({ severity }) => severity === "beyond")
      ? [replace("series switch", 2)]
      : isHurt("series switch")
        ? [check("series switch", 2)]
        : []),
    ...[...sources, ...written].flatMap(({ name }) => [
      ...(isHurt(`lead of ${the(name)}`) ? [replace(`lead of ${the(name)}`, 3)] : []),
      ...(isHurt(`contact of ${the(name)}`) ? [replace(`contact of ${the(name)}`, 3)] : []),
    ]),
    ...sources.flatMap(({ name, kind }) => (kind === "battery" && isHurt(name) ? [check(name, 4)] : [])),
    ...loads.flatMap(({ name, grade }) => (grade === "inside" ? [] : [check(name, 4)])),
  ];
}
