import { runScenario } from "@railfault/sim";
import { describe, expect, it } from "vitest";
import { shippedLine } from "../../../packages/notebooks/src/line/shipped.ts";
import { afterwards } from "../../../packages/notebooks/src/pages/battery/afterwards.ts";
import { courseOf, placeFacts, tagOfPlace } from "../../../packages/notebooks/src/pages/battery/place-facts.ts";

function answered(text: string) {
  const result = runScenario(text, "line.yaml");
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return result;
}

describe("a fuse that the charging current melts", () => {
  const { text } = shippedLine("08-charger-creep");
  const answer = answered(text.replace("slew: 0.6 V/h", "slew: 6 V/h").replace("blade fuse 20 A", "blade fuse 5 A"));
  const facts = placeFacts(answer);

  it("is told as what it is: the battery was gone before anything tripped", () => {
    if (facts === null) throw new Error("there is no battery");
    const [fuse] = answer.run.fuses;
    expect(fuse.meltTime).toBeLessThan(facts.trip ?? Number.NaN);
    expect(tagOfPlace(facts)).toEqual({ tone: "close", words: "Melted before the trip" });
    const course = courseOf(facts, (amps) => `${amps} A`);
    expect(course).toMatch(/melts 4 min \d+ s before the trip, by the current that charges/);
    expect(course).not.toContain("come out of the battery");
    expect(afterwards(answer).replaceAll("\u00a0", " ")).toMatch(
      /takes the hut battery away 4 min \d+ s before the trip/,
    );
    expect(facts.peakCurrent).toBeLessThan(0.1);
  });
});

describe("an SCR that is held on too hot", () => {
  it("is told which heat sink would carry it, where one would", () => {
    const { text } = shippedLine("08-charger-creep");
    const answer = answered(text.replace("case to ambient: 3 K/W", "case to ambient: 60 K/W"));
    expect(answer.run.crowbar?.failedShort).toBe(true);
    const told = afterwards(answer).replaceAll("\u00a0", " ");
    const [, most] = /A heat sink of at most ([\d.]+) K\/W .* this one has 60 K\/W/.exec(told) ?? [];
    expect(Number(most)).toBeGreaterThan(3);
    expect(Number(most)).toBeLessThan(60);
    const better = answered(
      text.replace("case to ambient: 3 K/W", `case to ambient: ${most} K/W`).replace("run for: 3 h", "run for: 20 h"),
    );
    expect(better.run.crowbar?.failedShort).toBe(false);
    expect(better.run.crowbar?.endTemperature).toBeGreaterThan(110);
    expect(better.run.crowbar?.endTemperature).toBeLessThan(126);
  });
});
