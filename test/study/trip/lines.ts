import { readFileSync } from "node:fs";
import { join } from "node:path";
import { readTripSettings, type TripStudy, type TripWishes, tripStudy } from "@railfault/sim";
import { root } from "../../ground/files.ts";

/** The text of a shipped scenario by its name without ending. */
export function shippedText(name: string): string {
  return readFileSync(join(root, "packages/sim/scenarios", `${name}.yaml`), "utf8");
}

/** A study that must not be refused. */
export function studiedText(text: string, wishes: TripWishes = {}): TripStudy {
  const { settings, issues } = readTripSettings(wishes);
  if (settings === null) throw new Error(issues.map(({ message }) => message).join(" "));
  const answer = tripStudy(text, "line.yaml", settings);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join(" "));
  return answer.study;
}
