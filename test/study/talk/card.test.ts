import { readFileSync } from "node:fs";
import { type BenchCard, benchCard, parseScenario, renderCard, simulate } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { benchLine } from "../../../packages/sim/src/study/talk/bench-line.ts";
import { cardHtml } from "../../../packages/sim/src/study/talk/sheets.ts";
import { shipped, station } from "../../cli/launch.ts";

function cardOf(text: string): BenchCard {
  const found = benchCard(text, "line.yaml");
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  return found.card;
}
const fileCard = (name: string): BenchCard => cardOf(readFileSync(shipped(name), "utf8"));

describe("a bench test card", () => {
  const { source, readings, dummy, checks } = fileCard("01-shorted-pass-transistor.yaml");
  const [before, at, after] = readings;

  test("reads what Ohm's law says before the trip", () => {
    expect(before.supplyCurrent).toBeCloseTo(before.radio / dummy.resistance, 3);
    expect(before.supply).toBeGreaterThan(before.protector);
    expect(before.protector).toBeGreaterThan(before.radio);
  });

  test("trips at the protector's own trip point, and at both ends of its tolerance", () => {
    expect(at.protector).toBeCloseTo(15, 3);
    // (2.495 V ± 1 % and its drift) · (1 + R1/R2), resistors of 1 %: about ±3 %.
    const [low, high] = at.protectorRange ?? [0, 0];
    expect(low).toBeGreaterThan(15 * 0.96);
    expect(high).toBeLessThan(15 * 1.04);
    expect(high - low).toBeGreaterThan(0.5);
    expect(checks[1].pass).toBe(`${low.toFixed(2)} V to ${high.toFixed(2)} V`);
  });

  test("is held on afterwards by the source's limit: threshold and slope of the SCR", () => {
    expect(after.supplyCurrent).toBeCloseTo(source.currentLimit, 2);
    expect(after.protector).toBeGreaterThan(0.9);
    expect(after.protector).toBeLessThan(1.2);
  });

  test("limits the source to three times the latching current at least", () => {
    const { source: own } = fileCard("04-foldback.yaml");
    expect(own.currentLimit).toBeGreaterThanOrEqual(3 * 0.15);
    const strong = cardOf(
      station({
        protector: "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast, latching current: 0.5 A}",
      }),
    );
    expect(strong.source.currentLimit).toBe(1.5);
    expect(strong.source.why[0]).toContain("common practice, no source");
  });

  test("for with less than what holds it the SCR does not stay on, in the model as on the bench", () => {
    const protector = "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}";
    const { scenario } = parseScenario(station({ protector }), "line.yaml");
    if (scenario === null) throw new Error("refused");
    const setting = { startVoltage: 13.8, endVoltage: 15.5, slew: 0.1, dummy: 470, trip: null };
    const stays = (currentLimit: number) =>
      simulate(benchLine(scenario, { ...setting, currentLimit })).crowbar?.conductingAtEnd;
    expect([stays(0.05), stays(0.6)]).toEqual([false, true]);
  });

  test("takes its limits from the file's own tolerances where there are any, drift in a room included", () => {
    const { readings: own, checks: limits } = fileCard("29-chosen-parts.yaml");
    expect(own[1].protectorRange?.map((value) => value.toFixed(2))).toEqual(["14.84", "15.16"]);
    expect(limits[1].basis).toBe("the file's tolerances");
  });

  test("begins below the lowest trip point, whatever the supply is set to", () => {
    const low = cardOf(station({ protector: "crowbar: {part: SCR 55 A, trip voltage: 14.0 V, sense filter: fast}" }));
    expect(low.source.startVoltage).toBeLessThan((low.readings[1].protectorRange?.[0] ?? 0) - 0.4);
  });

  test("tries a series switch and a clamp, too", () => {
    const opened = fileCard("12-relay-contact.yaml").readings[2];
    expect(opened.radio).toBeLessThan(0.01);
    expect(opened.protector).toBeGreaterThan(15);
    const clamp = fileCard("10-clamp-only.yaml");
    expect(clamp.protector).toContain("breaks down at 15.8 V");
    expect(clamp.readings[1].protector).toBeCloseTo(15.8, 1);
  });

  test("says that the protector is reset by hand only where it is", () => {
    expect(fileCard("13-gate-kept-on.yaml").steps.join(" ")).toContain("reset the protector");
    expect(fileCard("02-hiccup-supply.yaml").steps.join(" ")).not.toContain("reset the protector");
  });

  test("names batteries to be taken off", () => {
    expect(fileCard("09-panel-and-battery.yaml").steps[0]).toBe(
      "Switch off the relay radio, cover the roof panel, take the hut battery off (fuse, minus, plus) and cover the terminals: off until the last step.",
    );
  });

  test("switches radios off before anything is moved, tries the meter, and says what to do where nothing trips", () => {
    for (const name of ["01-shorted-pass-transistor.yaml", "09-panel-and-battery.yaml", "12-relay-contact.yaml"]) {
      const { steps } = fileCard(name);
      expect(steps[0], name).toMatch(/^Switch off the relay radio/);
      expect(steps[1], name).toMatch(/Try the meter on a known voltage, measure 0 V .*, try it again/);
      expect(steps.join(" "), name).toMatch(/No trip by \d\d\.\d\d V: failed, output off/);
    }
    expect(fileCard("12-relay-contact.yaml").steps.join(" ")).toContain("what the relay's coil takes");
    expect(fileCard("09-panel-and-battery.yaml").steps.join(" ")).not.toContain("coil");
  });

  test("is refused for a line without a protector, and for a file with errors, with all of them", () => {
    const none = benchCard(readFileSync(shipped("07-lost-feedback-unprotected.yaml"), "utf8"), "x.yaml");
    expect(none.kind === "refused" && none.issues[0].code).toBe("no-protector");
    const broken = benchCard("run for: 1 m\nsources: []\n", "x.yaml");
    expect(broken.kind === "refused" && broken.issues.length).toBeGreaterThan(1);
  });

  test("prints every figure, cautions first, and a hostile title stays text", () => {
    const text = readFileSync(shipped("01-shorted-pass-transistor.yaml"), "utf8").replace(
      /^title: .*$/m,
      "title: <img src=x onerror=alert(1)>",
    );
    const card = cardOf(text);
    const told = renderCard(card);
    expect(told.indexOf("Hundreds of amperes")).toBeLessThan(told.indexOf("In this order"));
    expect(told).toContain("15.00 V (14.52 V to 15.49 V)");
    const html = cardHtml(card);
    expect(html).not.toContain("<img");
    expect(html).toContain("&lt;img src=x");
    expect(html).not.toContain("<script");
  });
});
