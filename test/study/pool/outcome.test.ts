import { runScenario } from "@railfault/sim";
import { expect, test } from "vitest";
import { outcomeOf } from "../../../packages/sim/src/study/pool/outcome.ts";
import { shippedText } from "../compare/lines.ts";

test("a supply may be called crowbar: what it passes is not the SCR's rating", () => {
  const answer = runScenario(shippedText("10-clamp-only"), "10.yaml", { record: false });
  if (answer.kind === "refused" || answer.verdict.kind !== "verdict") throw new Error("no verdict");
  const [first] = answer.verdict.findings;
  const findings = [{ ...first, subject: "crowbar bench supply", severity: "beyond" as const }];
  const verdict = { ...answer.verdict, grade: "inside" as const, safe: true, findings };
  expect(outcomeOf({ ...answer.run, crowbar: null }, verdict)).toBe("load safe, something else beyond its rating");
});
