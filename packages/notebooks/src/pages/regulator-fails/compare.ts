import { formatQuantity, type Judged, type LoadVerdict, type Scenario } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import { listed } from "../hiccup/words.ts";

const volts = (value: number): string => formatQuantity(value, "voltage", { digits: 3 });
const lasting = (value: number): string => (value > 0 ? `for ${formatQuantity(value, "time")}` : "never");

/** What protects in a line, as a reader names it; null where nothing does. */
export function protectionOf({ crowbar, clamp, seriesSwitch, sources, loads }: Scenario): string | null {
  const own = sources.some((source) => source.kind === "supply" && (source.ownCrowbar ?? source.shutdown) !== null);
  const names = [
    ...(crowbar === null ? [] : ["the crowbar"]),
    ...(clamp === null ? [] : ["the clamp"]),
    ...(seriesSwitch === null ? [] : [seriesSwitch.kind === "relay" ? "the contact" : "the series transistor"]),
    ...(own ? ["the supply's own protection"] : []),
    ...(loads.some((load) => load.clamp !== null) ? ["the radio's own clamp"] : []),
  ];
  if (names.length === 0) return null;
  return listed(names);
}

const grades = ["inside", "withstood", "beyond"] as const;

/** The load that fares worst without protection. */
function worst(loads: readonly LoadVerdict[]): LoadVerdict | undefined {
  const rank = (load: LoadVerdict) => grades.indexOf(load.grade) * 1e6 + load.peak.value;
  return [...loads].sort((a, b) => rank(b) - rank(a))[0];
}

/**
 * What the protection is worth, in one sentence: the same fault with it and without.
 *
 * @param guarded the line as it stands
 * @param bare the same line where nothing protects
 * @example worthOf(line, bare) // "Without the crowbar the relay radio would see 23.6 V instead of 14.7 V …"
 */
export function worthOf(guarded: Answer, bare: Answer): string {
  const protection = protectionOf(guarded.scenario);
  if (protection === null) return "Nothing protects this line as it stands, so there is nothing to compare.";
  if (guarded.verdict.kind !== "verdict" || bare.verdict.kind !== "verdict")
    return "One of the two runs has no verdict, so they cannot be compared.";
  return sentence(protection, guarded.verdict, bare.verdict);
}

function sentence(protection: string, guarded: Judged, bare: Judged): string {
  const without = worst(bare.loads);
  const same = guarded.loads.find(({ name }) => name === without?.name);
  if (without === undefined || same === undefined) return "The two lines have no radio in common.";
  const name = `the ${without.name.replace(/^the /i, "")}`;
  const difference = without.peak.value - same.peak.value;
  const limit = volts(without.maximum);
  if (Math.abs(difference) < 0.05 && without.above.total === same.above.total)
    return `Here it makes no difference: ${name} sees ${volts(same.peak.value)} at the most, with ${protection} or without.`;
  return (
    `Without ${protection}, ${name} would see ${volts(without.peak.value)} instead of ${volts(same.peak.value)}, ` +
    `${formatQuantity(Math.abs(difference), "voltage", { digits: 2 })} ${difference >= 0 ? "more" : "less"}, and be above its ${limit} ` +
    `${lasting(without.above.total)} instead of ${lasting(same.above.total).replace(/^for /, "")}.`
  );
}
