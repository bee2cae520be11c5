import type { Issue } from "../../issue/issue.ts";
import type { FuseFitInput } from "./fuse-fit-types.ts";

/** Every reason why a fuse cannot be fitted to these figures; paths are relative to the fuse. */
export function fitProblems(input: FuseFitInput): Issue[] {
  const issues: Issue[] = [];
  const refuse = (path: string, message: string, received: unknown, allowed: string): void => {
    issues.push({
      severity: "error",
      code: "unusable-fuse-figure",
      path,
      message,
      received: String(received),
      allowed,
      hint: null,
      position: null,
    });
  };
  const positive = (path: string, what: string, value: number): void => {
    if (!(value > 0 && Number.isFinite(value))) refuse(path, `The ${what} must be a positive number.`, value, "> 0");
  };
  positive("ratedCurrent", "rated current", input.ratedCurrent);
  if (input.nominalMeltingI2t !== null) positive("nominalMeltingI2t", "nominal melting I²t", input.nominalMeltingI2t);
  if (input.minimumMeltingCurrent != null) {
    positive("minimumMeltingCurrent", "minimum melting current", input.minimumMeltingCurrent);
  }
  if (!(input.resistanceRatio >= 1 && Number.isFinite(input.resistanceRatio))) {
    refuse(
      "resistanceRatio",
      "The resistance at melting cannot be below the cold resistance.",
      input.resistanceRatio,
      "≥ 1",
    );
  }
  input.gates.forEach(({ multiple, minimum, maximum }, i) => {
    const path = `gates[${i}]`;
    positive(`${path}.multiple`, "multiple of the rated current", multiple);
    if (minimum !== null) positive(`${path}.minimum`, "shortest time", minimum);
    if (maximum !== null) positive(`${path}.maximum`, "longest time", maximum);
    if (minimum === null && maximum === null)
      refuse(path, "A gate needs a shortest or a longest time.", "neither", "at least one");
    if (minimum !== null && maximum !== null && minimum > maximum) {
      refuse(
        path,
        "The shortest time of a gate lies above its longest.",
        `${minimum} s … ${maximum} s`,
        "minimum ≤ maximum",
      );
    }
  });
  (input.points ?? []).forEach(({ current, time }, i) => {
    positive(`points[${i}].current`, "current of a curve point", current);
    positive(`points[${i}].time`, "time of a curve point", time);
  });
  const bands = input.gates.filter(({ minimum, maximum }) => minimum !== null && maximum !== null);
  if (input.nominalMeltingI2t === null && bands.length === 0 && (input.points ?? []).length === 0) {
    refuse(
      "",
      "Nothing says how fast this fuse melts.",
      "none of them",
      "nominal melting I²t, a gate with both times, or curve points",
    );
  }
  return issues;
}
