import type { Run } from "../../model/result.ts";
import type { Judged } from "../../verdict/types.ts";
import { the } from "../../verdict/words.ts";

/** Which protectors cannot see this fault, each a phrase, where a load was not safe: without the reason a scheme loses for none. */
export function idleProtectors({ scenario }: Run, { safe, assumptions }: Judged): readonly string[] {
  if (safe) return [];
  return scenario.sources.flatMap((source, k) => {
    if (source.kind !== "supply" || source.fault.kind !== "lost feedback") return [];
    if (source.shutdown?.worksOnLostFeedback !== false) return [];
    const assumed = assumptions.find(({ path }) => path === `sources[${k}].own OVP.works on lost feedback`);
    const basis = assumed === undefined ? "as the file says" : `assumed: ${assumed.source}`;
    return [`the own OVP of ${the(source.name)} does not work on lost feedback (${basis})`];
  });
}
