// What a card calls passing, beside what it shows, and beside what nobody knows of the bench.
import { readFileSync } from "node:fs";
import { type BenchCard, benchCard, renderCard } from "@railfault/sim";
import { expect, test } from "vitest";
import { volts } from "../../../packages/sim/src/study/talk/meter.ts";
import { shipped, station } from "../../cli/launch.ts";

function cardOf(text: string): BenchCard {
  const found = benchCard(text, "line.yaml");
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  return found.card;
}
const withTolerance = (spread: string): BenchCard =>
  cardOf(
    `${station({ protector: "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}" })}tolerances:\n  crowbar.trip voltage: ${spread}\n  ambient: -20…50 °C\n`,
  );

test("a reading as set that lies outside of what passes is told to fail, not beside a range that it is not in", () => {
  const two = renderCard(cardOf(readFileSync(shipped("17-two-radios.yaml"), "utf8")));
  expect(two).toContain("15.50 V (fails)");
  expect(two).not.toContain("15.50 V (15.00 V");
  const good = renderCard(cardOf(readFileSync(shipped("01-shorted-pass-transistor.yaml"), "utf8")));
  expect(good).not.toContain("(fails)");
});

test("a drift that the file tells widens what passes to a room's ends; one that it does not tell is said to be left out", () => {
  const drifting = withTolerance("±0.1 V with 10 mV/K from 25 °C");
  expect(drifting.checks[1].pass).toBe(`${volts(14.8)} to ${volts(15.2)}`);
  expect(drifting.assumptions.join(" ")).toContain("temperature from 15 to 35 °C");
  const still = withTolerance("±0.1 V");
  expect(still.checks[1].pass).toBe(`${volts(14.9)} to ${volts(15.1)}`);
  expect(still.assumptions.join(" ")).toContain("±0.1 V, temperature left out.");
  expect(still.assumptions.join(" ")).not.toContain("gain");
});

test("what a fit has written leaves out the scope's gain, and the card says so", () => {
  expect(withTolerance("±0.03 V normal").assumptions.join(" ")).toContain(
    "leaves out the scope's gain, too, 3 % (common practice, no source)",
  );
});

test("a clamp stands what a source's limit may be off by, or there is no card; the limit is set by a meter", () => {
  const line = (energy: string) =>
    readFileSync(shipped("10-clamp-only.yaml"), "utf8").replace(
      /^clamp: .*$/m,
      `clamp: {part: "clamp diode 1500 W, 15 V", ratings: {energy: ${energy}}}`,
    );
  const card = cardOf(line("2.3 J"));
  expect(card.steps.join(" ")).toContain("short it through a meter on its 10 A range");
  expect(card.source.why.join(" ")).toContain("Set it by a meter");
  // What the limit itself lets through it would stand.
  const found = benchCard(line("1.9 J"), "line.yaml");
  expect(found.kind === "refused" && found.issues[0].code).toBe("test-hurts");
});
