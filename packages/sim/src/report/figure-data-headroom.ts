import type { Run } from "../model/result.ts";
import { nearness } from "../verdict/finding.ts";
import type { Finding, Judged } from "../verdict/types.ts";
import { show, showApart } from "../verdict/words.ts";
import type { HeadroomData, HeadroomLimit } from "./figure/chart-types.ts";
import { runFacts } from "./run-facts.ts";

/**
 * What the headroom figure draws of a verdict: the limits of the loads, then every other watched limit.
 *
 * @param run says on which values the verdict rests; left out: the figure does not say it
 * @returns headroom as rating over found; values as text with their unit
 * @example headroomFigure(headroomData(verdict), { document })
 */
export function headroomData(verdict: Judged, run?: Pick<Run, "scenario">): HeadroomData {
  const findings = [...verdict.loads.flatMap(({ limits }) => limits), ...verdict.findings];
  return {
    title: verdict.title === "" ? "A fault on a 12 V line: headroom" : `${verdict.title}: headroom`,
    subtitle: nearest(findings),
    ...(run === undefined ? {} : { facts: runFacts(run, verdict) }),
    limits: findings.map(limitOf),
  };
}

function limitOf({ subject, quantity, dimension, headroom, severity, close, found, rating }: Finding): HeadroomLimit {
  const [foundText, ratingText] =
    rating === null ? [show(found, dimension), null] : showApart(found, rating, dimension);
  return {
    subject,
    quantity,
    headroom: headroom !== null && headroom > 0 ? headroom : null,
    severity,
    close,
    found: foundText,
    rating: ratingText,
  };
}

function nearest(findings: readonly Finding[]): string {
  const passed = findings.filter(({ severity }) => severity !== "ok" && severity !== "not rated");
  const least = findings.filter((each) => nearness(each) < Infinity).sort((a, b) => nearness(a) - nearness(b))[0];
  if (least === undefined) return "No limit is known that could be compared.";
  const ratio = Number(nearness(least).toPrecision(3));
  const which = `${least.subject}, ${least.quantity}`;
  if (passed.length === 0) return `No limit was passed; nearest to its own came: ${which}, ${ratio} times inside.`;
  const count = passed.length === 1 ? "One limit was not kept" : `${passed.length} limits were not kept`;
  return nearness(least) < 1
    ? `${count}; farthest past its own: ${which}.`
    : `${count}; the least headroom: ${which}, ${ratio} times.`;
}
