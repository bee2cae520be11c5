import { InvalidInput, type Issue } from "../issue/issue.ts";
import type { Scenario } from "../scenario/types.ts";

/** A problem of a line that only the model can see. */
export function refusal(path: string, code: string, message: string, hint: string): Issue {
  return { severity: "error", code, path, message, received: null, allowed: null, hint, position: null };
}

/** The same where the line can be run all the same. */
export function warning(path: string, code: string, message: string, hint: string): Issue {
  return { ...refusal(path, code, message, hint), severity: "warning" };
}

/** @throws InvalidInput where a scenario asks for what no line can do. */
export function refuseImpossible(scenario: Scenario): void {
  const issues = impossibleDropOuts(scenario);
  if (issues.length > 0) throw new InvalidInput(issues);
}

/** Falling asleep needs a current that can change in no time: a lead's cannot, so a capacitor must stand between. */
function impossibleDropOuts({ loads }: Scenario): Issue[] {
  return loads.flatMap((load, k) => {
    if (!load.dropOut || (load.kind !== "lamp" && load.inputCapacitance > 0)) return [];
    const message =
      load.kind === "lamp"
        ? `${load.name} is a lamp: it has nothing that could drop out.`
        : `${load.name} drops out, but has no input capacitance that carries the lead's current meanwhile.`;
    const hint = "leave the drop out away, or give the load an input capacitance";
    return [refusal(`loads[${k}].dropOut`, "cannot-drop-out", message, hint)];
  });
}
