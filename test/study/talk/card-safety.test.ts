// What a person does at the bench by the card must hurt neither them nor the parts, and what passes must protect.
import { readdirSync, readFileSync } from "node:fs";
import { type BenchCard, benchCard, type Issue, parseScenario, renderCard, type Scenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shipped, station } from "../../cli/launch.ts";

const cardOf = (text: string): BenchCard => {
  const found = benchCard(text, "line.yaml");
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  return found.card;
};
const issuesOf = (text: string): readonly Issue[] => {
  const found = benchCard(text, "line.yaml");
  if (found.kind === "card") throw new Error("no refusal");
  return found.issues;
};
const fileText = (name: string): string => readFileSync(shipped(name), "utf8");
const scenarioOf = (text: string): Scenario => {
  const { scenario } = parseScenario(text, "line.yaml");
  if (scenario === null) throw new Error("refused");
  return scenario;
};
const crowbar = (trip: string, more = ""): string =>
  station({ protector: `crowbar: {part: SCR 55 A, trip voltage: ${trip}, sense filter: fast${more}}` });

const cards = readdirSync(shipped(""))
  .filter((name) => name.endsWith(".yaml"))
  .flatMap((name) => {
    const found = benchCard(fileText(name), name);
    return found.kind === "card" ? [{ name, card: found.card, scenario: scenarioOf(fileText(name)) }] : [];
  });

test("after the trip a switch keeps off what the source was at when the knob was let go", () => {
  const [, , after] = cardOf(fileText("11-series-transistor.yaml")).readings;
  expect(after.protector).toBeGreaterThan(15.02);
  expect(after.protector).toBeLessThan(15.1);
  expect(after.radio).toBeLessThan(0.01);
});

test("most shipped lines have a card", () => {
  expect(cards.length).toBeGreaterThanOrEqual(20);
});

describe("a clamp", () => {
  test("is alive in every reading, and takes a part of its energy only", () => {
    const { readings, strain, steps, source, dummy } = cardOf(fileText("10-clamp-only.yaml"));
    expect(readings.map(({ moment }) => moment)).toEqual([
      "before the trip",
      "as it begins to conduct",
      "while it conducts",
    ]);
    const [before, , held] = readings;
    expect(held.protector).toBeGreaterThan(15.8);
    // What the dummy load leaves of the limit, for 5 s.
    const current = source.currentLimit - held.radio / dummy.resistance;
    expect(current).toBeGreaterThanOrEqual(0.01);
    expect(held.supplyCurrent).toBeCloseTo(source.currentLimit, 3);
    expect(before.supplyCurrent).toBeLessThan(source.currentLimit);
    const energy = Number(/and (\d+(?:\.\d+)?) J of the/.exec(strain.join(" "))?.[1]);
    expect(energy).toBeCloseTo(current * 15.8 * 5, 1);
    expect(energy).toBeLessThan(2.16 / 1.5);
    expect(steps.join(" ")).toMatch(/turn back to 13\.80 V: no more than 5 s in all/);
  });

  test("passes anywhere within its data sheet", () => {
    const { checks } = cardOf(fileText("10-clamp-only.yaml"));
    expect(checks[1]).toMatchObject({ pass: "14.30 V to 15.80 V", basis: "the part's data sheet" });
  });

  test("that the test would destroy has no card, but the reason and another way", () => {
    const [issue, ...others] = issuesOf(
      station({ protector: "clamp: {part: 'clamp diode 1500 W, 15 V', ratings: {energy: 0.2 J}}" }),
    );
    expect(others).toEqual([]);
    expect(issue.code).toBe("test-hurts");
    expect(issue.message).toMatch(/^The test would hurt the clamp, so there is no card\..*failed short/);
    expect(issue.hint).toContain("at 1 mA through a large resistor");
    expect(issue.position?.line).toBeGreaterThan(1);
  });
});

describe("what passes", () => {
  test("ends where a load's window ends, and says that the value in the file does not pass", () => {
    const [, level] = cardOf(fileText("17-two-radios.yaml")).checks;
    expect(level.pass).toMatch(
      /^15\.0\d V to 15\.18 V\. As set, at 15\.50 V, it cannot pass: .*window of the link radio ends: set it lower$/,
    );
    expect(level.basis).toBe("the threshold's worst case, cut at the radio's window");
    expect(level.fail).toContain(
      "above 15.18 V, the end of its window, or not at all by 15.80 V, the link radio is not protected",
    );
  });

  test("ends where the protector would trip in normal service, the source at the high end of its tolerance", () => {
    const tolerant = (set: string) =>
      cardOf(`${crowbar("14.4 V")}tolerances:\n  crowbar.trip voltage: ±0.6 V\n${set}`).checks[1];
    const level = tolerant("");
    expect(level.pass).toBe("13.85 V to 15.00 V");
    expect(level.basis).toBe("the file's tolerances, cut at the source's voltage");
    expect(level.fail).toContain(
      "At 13.85 V or below (13.80 V of the bench supply and ripple) it trips in normal service",
    );
    expect(tolerant("  bench supply.set voltage: 13.8 V ± 0.15 V\n").pass).toBe("14.00 V to 15.00 V");
  });

  test("is nothing where the line's own values do not protect", () => {
    const [issue] = issuesOf(crowbar("16.5 V"));
    expect(issue.code).toBe("cannot-pass");
    expect(issue.message).toMatch(
      /above 15\.87 V the relay radio is not protected\. The line's own values do not protect\.$/,
    );
    expect(issue).toMatchObject({ path: "crowbar.trip voltage", received: "16.5 V" });
    expect(issue.allowed).toBe("between 13.85 V and 15.87 V, tolerance included");
    expect(issue.position?.line).toBeGreaterThan(1);
  });

  test("of a clamp whose sheet lies above the window is nothing, and no trip study is offered", () => {
    const [issue] = issuesOf(station({ protector: "clamp: clamp diode 1500 W, 18 V" }));
    expect(issue.code).toBe("cannot-pass");
    expect(issue.message).toMatch(
      /^No breakdown voltage of this protector .* conduct anywhere from 17\.10 V to 18\.90 V/,
    );
    expect(issue.hint).toContain("railfault compare");
  });

  test("lies above the source and within every window, on every card", () => {
    for (const { name, card, scenario } of cards) {
      const range = card.readings[1].protectorRange;
      const [low, high] = range ?? [card.readings[1].protector, card.readings[1].protector];
      const set = scenario.sources.flatMap((source) => (source.kind === "supply" ? [source.setVoltage] : []));
      expect(high, name).toBeLessThan(Math.min(...scenario.loads.map(({ limits }) => limits.maximum)) + 2e-3);
      expect(low, name).toBeGreaterThan(Math.max(0, ...set));
    }
  });

  test("is missed in three ways, each with what follows from it", () => {
    const { fail } = cardOf(fileText("01-shorted-pass-transistor.yaml")).checks[1];
    expect(fail).toBe(
      "outside that, or not at all by 15.80 V: not set as the file says, find out why. At 13.85 V or below (13.80 V of the station supply and ripple) it trips in normal service; above 15.87 V, the end of its window, the relay radio is not protected",
    );
  });
});

describe("the steps", () => {
  test("make the line dead, take off all that feeds it and all that hangs on it, and put it back at the end", () => {
    for (const { name, card, scenario } of cards) {
      const { steps } = card;
      const place = (words: string): number => {
        const found = steps.findIndex((step) => step.includes(words));
        expect(found, `${name}: ${words}`).toBeGreaterThanOrEqual(0);
        return found;
      };
      const [first, zero, off, set] = steps;
      for (const { name: source, kind } of scenario.sources) {
        if (kind === "battery") {
          expect(first, name).toMatch(
            new RegExp(
              `^Switch off .*[Tt]ake .*${source}.* off \\(.*minus, plus\\) and cover the terminals: off until the last step`,
            ),
          );
          // Nowhere in between is it brought back.
          const between = steps
            .slice(steps.indexOf(off) + 1, -1)
            .join(" ")
            .replace(`in the place of the ${source}`, "");
          expect(between, name).not.toContain(source);
        }
        expect(off, name).toContain(source);
        expect(steps.at(-1), name).toContain(source);
      }
      expect(zero, name).toContain("measure 0 V");
      for (const load of scenario.loads)
        for (const step of [zero, off, steps.at(-1)]) expect(step, name).toContain(load.name);
      const on = place("Output on. Compare with “before the trip”");
      expect(place("minus first, then plus"), name).toBeLessThan(on);
      expect(place("no battery, no radio."), name).toBeLessThan(on);
      expect(set, name).toMatch(
        /Output off, short it(?: through a meter on its 10 A range)?; output on, set its limit to \d+\.\d\d A; output off, take the short away\.$/,
      );
      expect(place("plus first, then minus"), name).toBe(steps.length - 2);
    }
  });

  test("measure on both sides of whatever stands in the line", () => {
    const zero = (file: string): string => cardOf(fileText(file)).steps[1];
    expect(zero("11-series-transistor.yaml")).toContain(
      "before and behind the main fuse, behind the series switch and at the relay radio",
    );
    expect(zero("08-charger-creep.yaml")).toContain("0 V at the protector and at the relay radio");
  });

  test("tell what a switch that recloses does by itself, and wait for no reset of it", () => {
    const { steps, checks } = cardOf(fileText("20-battery-terminal-falls-off.yaml"));
    const told = steps.join(" ");
    expect(told).toContain(
      "Hands off: the switch recloses by itself, without a reset. Turn back to 14.00 V: 1 s after the voltage has fallen below 14.60 V",
    );
    expect(told).not.toMatch(/After 10 s|reset the protector/);
    expect(checks.at(-1)?.pass).toBe("about 1 s after the voltage fell below 14.60 V");
    const low = fileText("20-battery-terminal-falls-off.yaml").replace("on voltage: 14.6 V", "on voltage: 13.5 V");
    expect(cardOf(low).steps.join(" ")).toContain(
      "Turn back to 13.30 V: 1 s after the voltage has fallen below 13.50 V it must close, then at 14.00 V all",
    );
  });
});

test("the dummy load stands twice what it takes at the highest voltage of the test", () => {
  const high = fileText("01-shorted-pass-transistor.yaml")
    .replace("trip voltage: 15.0 V", "trip voltage: 24 V")
    .replace("limits: {withstand: parts rated 16 V}", "limits: {maximum: 30 V}");
  for (const { name, card } of [...cards, { name: "24 V", card: cardOf(high) }]) {
    const { power, resistance } = card.dummy;
    const taken = card.source.endVoltage ** 2 / resistance;
    expect(power, name).toBeGreaterThanOrEqual(2 * taken);
    // The next usual size, no more.
    expect(power, name).toBeLessThan(5 * taken);
    expect(card.steps.join(" "), name).toContain(` ${power} W or more`);
  }
});

test("a test that would melt the fuse has no card, but the reason", () => {
  const [issue] = issuesOf(
    crowbar("15.0 V", ", latching current: 4 A").replace("main fuse: blade fuse 20 A", "main fuse: blade fuse 5 A"),
  );
  expect(issue.code).toBe("test-melts-fuse");
  expect(issue.message).toBe(
    "The test would melt the main fuse (blade fuse 5 A): with a limit below 12.00 A the SCR may not stay on.",
  );
  expect(issue.hint).toContain("the right one back");
});

test("a limit beyond a small bench source asks for a larger one, and tells how long the SCR stands it", () => {
  const { source, strain } = cardOf(crowbar("15.0 V", ", latching current: 5 A"));
  expect(source.currentLimit).toBe(15);
  expect(source.why[0]).toBe("Take a bench source that gives 15.00 A for a while; the usual ones end at 3.00 A.");
  expect(strain.join(" ")).toMatch(/Left on, it passes its limit after \d+ s/);
});

test("what an SCR may keep is twice the simulated, up to the next half volt: on the card and in the guide", () => {
  for (const { name, card, scenario } of cards) {
    if (scenario.crowbar === null) continue;
    const [, , after] = card.readings;
    const limit = Number(/^below (\d+\.\d\d) V, and it stays there$/.exec(card.checks[2].pass)?.[1]);
    expect(limit, name).toBeGreaterThanOrEqual(Math.max(1, 2 * after.protector - 1e-6));
    expect(limit, name).toBeLessThan(Math.max(1, 2 * after.protector) + 0.5);
    expect((2 * limit) % 1, name).toBe(0);
  }
  const told = "at an SCR to the next 0.5 V, and are no smaller than 0.1 V (drop), 0.5 V (behind a switch), 1 V (SCR)";
  expect(cards[0].card.assumptions.join(" ")).toContain(told);
  const guide = readFileSync(new URL("../../../packages/sim/docs/talk.md", import.meta.url), "utf8");
  expect(guide).toContain("twice the simulated one, up to the next 0.5 V, 1 V at least");
});

test("a line that cannot stand on the bench is refused with what stands in the way", () => {
  const text = crowbar("15.0 V").replace(
    "main fuse:",
    "clamp: {part: 'clamp diode 1500 W, 15 V', breakdown voltage: 14.5 V}\nmain fuse:",
  );
  // The clamp begins before the crowbar trips, and takes all that the source gives.
  const [issue] = issuesOf(text);
  expect(issue.code).toBe("test-hurts");
  expect(issue.message).toContain("the clamp");
});

test("the printed card tells a clamp's moments, not a trip", () => {
  const told = renderCard(cardOf(fileText("10-clamp-only.yaml")), { width: 120 });
  expect(told).toMatch(/Meter at +before the trip +as it begins to conduct +while it conducts/);
  expect(told).not.toMatch(/ 0\.00 V/);
});
