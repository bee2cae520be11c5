import type { Finding, Judged, LoadVerdict, Pending, Starved, Verdict } from "@railfault/sim";
import type { Tag } from "./tags.ts";

/** What stands beside the answer on the radio, as large as it: what may burn or was used beyond its rating, and what is not over yet. */
export function besideOf(verdict: Verdict): readonly Tag[] {
  if (verdict.kind !== "verdict") return [];
  return [...hurt(verdict.findings), ...goingOn(verdict.pending)];
}

function hurt(findings: readonly Finding[]): readonly Tag[] {
  const burning = findings.filter(({ hazard }) => hazard === "fire");
  if (burning.length > 0) return [{ tone: "endangered", words: `Fire hazard: ${named(burning)}` }];
  const passed = findings.filter(({ severity }) => severity === "beyond" || severity === "unknown");
  const rated = passed.filter(({ rating }) => rating !== null);
  if (rated.length > 0) return [{ tone: "endangered", words: `Beyond its rating: ${named(rated)}` }];
  return passed.length === 0 ? [] : [{ tone: "endangered", words: `Outcome unknown: ${named(passed)}` }];
}

const GOING_ON: Readonly<Record<Pending["kind"], string>> = {
  "held on": "is held on",
  "repeated tripping": "trips again and again",
  "going on and off": "goes on and off",
  "clamp conducting": "still conducts",
  "overcurrent in a lead": "carries more than it is able to for ever",
  "above its maximum": "stays above its maximum",
  "voltage rising with charge": "rises as a battery fills",
  charging: "is still being charged",
  "set voltage moving": "still moves its set voltage",
  "still to come": "is not switched on yet",
};

const RISING: ReadonlySet<Pending["kind"]> = new Set(["set voltage moving", "voltage rising with charge"]);

function goingOn(pending: readonly Pending[]): readonly Tag[] {
  const failing = pending.filter(({ passesRating }) => passesRating);
  if (failing.length > 0)
    return failing.map(({ subject, kind }) =>
      RISING.has(kind)
        ? { tone: "endangered", words: `Still rising: ${subject}` }
        : { tone: "endangered", words: `Fails if nobody acts: ${subject}` },
    );
  const first = pending.at(0);
  if (first === undefined) return [];
  const more = pending.length === 1 ? "" : `, and ${pending.length - 1} more`;
  return [{ tone: "close", words: `Not over yet: ${first.subject} ${GOING_ON[first.kind]}${more}` }];
}

/** The parts by name, each once; more than two are counted. */
function named(findings: readonly Finding[]): string {
  const subjects = [...new Set(findings.map(({ subject }) => subject))];
  const left = subjects.length - 2;
  return left > 0 ? `${subjects.slice(0, 2).join(", ")} and ${left} more` : subjects.join(", ");
}

/** In a word or two whether a radio that lost its supply works again without anybody there. */
const comesBackWords: Readonly<Record<Starved["comesBack"], string>> = {
  "came back": "Back alone",
  "by itself": "Back alone",
  "by hand": "Drive up",
  "not told": "Not told",
};

const AFTERWARDS: Readonly<Record<Starved["comesBack"], (who: string) => string>> = {
  "came back": (who) => `${who} lost its supply for a while and came back by itself.`,
  "by itself": (who) => `Afterwards ${who} has no supply; it comes back by itself once the line does.`,
  "by hand": (who) => `Afterwards ${who} has no supply until somebody goes there.`,
  "not told": (who) => `${who} lost its supply; the run does not tell whether it comes back.`,
};

const RANK: readonly Starved["comesBack"][] = ["came back", "by itself", "not told", "by hand"];

/** Of the radios that lost their supply the one that fares worst; null where none did. */
export function afterwardsOf({ loads, tripping }: Judged): (Tag & { readonly sentence: string }) | null {
  const hungry = loads.flatMap(({ name, starved }) => (starved === null ? [] : [{ name, ...starved }]));
  const worst = hungry.toSorted((a, b) => RANK.indexOf(b.comesBack) - RANK.indexOf(a.comesBack))[0];
  if (worst === undefined) return null;
  const { comesBack, name } = worst;
  // Between two trips it may have just been fed when the run ended.
  const pulsed = tripping.some(({ ended }) => !ended) && (comesBack === "came back" || comesBack === "by itself");
  const sentence = pulsed
    ? `${the(name)} loses its supply with each trip; it comes back by itself once the line does.`
    : AFTERWARDS[comesBack](the(name));
  return {
    tone: comesBack === "by hand" ? "withstood" : comesBack === "not told" ? "close" : "safe",
    words: comesBackWords[comesBack],
    sentence: capital(sentence),
  };
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const the = (name: LoadVerdict["name"]): string =>
  /^(the |[A-Z])/.test(name) || /\d$/.test(name) ? name : `the ${name}`;
