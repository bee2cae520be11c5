import { describe, expect, test } from "vitest";
import type { SourceFindings } from "../../packages/sim/src/model/result.ts";
import type { Scenario, Supply } from "../../packages/sim/src/scenario/types.ts";
import { movingOn } from "../../packages/sim/src/verdict/moving.ts";
import { stillThrough } from "../../packages/sim/src/verdict/next-use/still-flows.ts";
import { barFound, fuseFound, idle, judged, run, sourceFound, switchFound, trace } from "./fixtures.ts";
import { battery, crowbar, seriesSwitch, supply } from "./parts.ts";

/** The one sentence on a supply whose set voltage moves when a run of 0.3 s ends; a tenth of a volt a second unless told. */
function told(found: Partial<SourceFindings>, source: Partial<Supply> = {}, scenario: Partial<Scenario> = {}) {
  const moves: Supply = { ...supply, fault: { kind: "voltage turned up", endVoltage: 18, slew: 0.1 }, ...source };
  const end = { radio_V: 13.5, supply_V: 13.8, crowbar_sense_V: 13.5, series_switch_sense_V: 13.5 };
  const columns = { ...end, supply_own_crowbar_sense_V: 13.8 };
  const made = run(
    {
      trace: trace(
        [0, 0.3],
        Object.fromEntries(Object.entries(columns).map(([name, value]) => [name, [value, value]])),
      ),
      sources: [sourceFound({ movement: { aim: 13.8, end: 18, slope: 0.1 }, ...found })],
      crowbar: scenario.crowbar === null ? null : barFound(idle),
      seriesSwitch: scenario.seriesSwitch ? switchFound({ state: "closed" }) : null,
    },
    { sources: [moves], crowbar: null, ...scenario },
  );
  const [only, ...more] = movingOn(made, moves);
  expect(more).toEqual([]);
  return only;
}
const bare = { crowbar: null } as const;

describe("a set voltage that still moves when the run ends", () => {
  test("is told with where it goes, and what it comes to first by the way it rises", () => {
    // 2.4 V to the radio's maximum, 24 s after the end.
    expect(told({}, {}, bare)).toMatchObject({
      sentence: expect.stringMatching(
        /still rising when the run ends: it stands at 13\.8 V and goes on to 18 V at .* Estimate: the radio passes its maximum of 15\.9 V about 24 s \(0\.4 min\) after the fault\.$/,
      ),
      passesRating: true,
    });
  });

  test.each<[string, Partial<Supply>, Partial<Scenario>, string]>([
    ["the crowbar", {}, { crowbar }, "the crowbar reaches its trip point of 15 V about 15 s (0.25 min)"],
    [
      "the series switch",
      {},
      { crowbar: null, seriesSwitch },
      "the series switch reaches its trip point of 15 V about 15 s",
    ],
    [
      "the supply's own crowbar",
      { ownCrowbar: { ...crowbar, tripVoltage: 14.8 } },
      bare,
      "the own crowbar of the supply reaches its trip point of 14.8 V about 10 s",
    ],
    [
      "its shutdown",
      { shutdown: { voltage: 15.3, delay: 0.001, worksOnLostFeedback: false } },
      bare,
      "the own OVP of the supply reaches its trip point of 15.3 V about 15 s",
    ],
  ])("ends at %s where that comes before any load's maximum", (_, source, scenario, words) => {
    const only = told({}, source, scenario);
    expect(only.sentence).toContain(words);
    expect(only.sentence).not.toContain("maximum");
    expect(only.passesRating).toBe(false);
  });

  test("is not ended by a shutdown that does not see lost feedback", () => {
    const blind = { fault: { kind: "lost feedback", ceilingVoltage: 18, slew: 0.1 } } as const;
    const shutdown = { voltage: 15.3, delay: 0.001, worksOnLostFeedback: false };
    expect(told({}, { ...blind, shutdown }, bare).sentence).not.toContain("OVP");
    expect(told({}, { ...blind, shutdown: { ...shutdown, worksOnLostFeedback: true } }, bare).sentence).toContain(
      "OVP",
    );
  });

  test("that stays below every limit, or falls, passes nothing", () => {
    const nothing = "Estimate: no protector trips and no load passes its maximum by that.";
    expect(told({ movement: { aim: 13.8, end: 14.5, slope: 0.1 } }, {}, bare).sentence).toContain(nothing);
    const falling = told({ movement: { aim: 13.8, end: 12, slope: -0.1 } }, {}, bare);
    expect(falling.sentence).toContain("is still falling when the run ends: it stands at 13.8 V and goes on to 12 V");
    expect(falling.sentence).toContain(nothing);
  });

  test("behind a current limit is held down for nobody knows how long", () => {
    expect(told({ stateAtEnd: "limiting" }, {}, bare).sentence).toMatch(
      /Its current limit holds the line below that for now: how long is not estimated\.$/,
    );
  });

  test("is no word worth where it has arrived, where its reservoir holds no more, and where it is off", () => {
    expect(told({ movement: { aim: 18, end: 18, slope: 0.1 } }, {}, bare)).toBeUndefined();
    expect(told({ movement: { aim: 12, end: 12, slope: -0.1 } }, {}, bare)).toBeUndefined();
    expect(told({ movement: { aim: 24, end: 30, slope: 0.1 } }, {}, bare)).toBeUndefined();
    expect(told({ stateAtEnd: "latched off" }, {}, bare)).toBeUndefined();
    expect(told({ movement: null }, {}, bare)).toBeUndefined();
  });

  test("is still to come of a supply that is not switched on yet", () => {
    expect(told({ stateAtEnd: "not switched on" }, { switchOn: { time: 60.001, rampTime: 1 } }, bare)).toMatchObject({
      kind: "still to come",
      sentence: "The supply is not switched on yet when the run ends: that comes 60 s (1 min) after the fault.",
    });
  });
});

describe("what a battery still feeds when the run ends", () => {
  const spare = { ...battery, name: "spare battery" };
  const fed = (names: readonly (typeof battery)[], more: Scenario["sources"] | readonly [] = []) => {
    const columns = { battery_A: [0, 150], spare_battery_A: [0, 150], crowbar_A: [0, 300], supply_A: [0, 1] };
    const sources = [...names, ...more] as unknown as Scenario["sources"];
    return run(
      {
        trace: trace([0, 0.3], columns),
        crowbar: barFound({ failedShort: true, conductingAtEnd: true }),
        sources: sources.map(({ name }) => sourceFound({ name })),
        fuses: [],
      },
      { sources, mainFuse: null },
    );
  };

  test("keeps everybody away from one or from several, and supplies are switched off from afar", () => {
    const steps = judged(fed([battery, spare], [supply])).replace.join(" ");
    expect(steps).toContain("Keep everybody away: the battery and the spare battery still feed 300 A into the failed");
    expect(steps).toContain("Switch the supply off only from afar, as at the mains.");
    expect(steps).toContain("they stay live.");
    const alone = judged(fed([battery])).replace.join(" ");
    expect(alone).toContain("Keep everybody away: the battery still feeds 300 A into");
    expect(alone).not.toContain("from afar");
    expect(alone).toContain("it stays live.");
  });

  test("is ended by the fuse that melts first by estimate, or by nothing", () => {
    const [endless] = stillThrough(fed([battery]));
    expect(endless).toMatch(
      /^300 A flow through the failed .* when the run ends, and nothing in the line ends that\.$/,
    );
    const later = (owner: string, meltsAfter: number) =>
      fuseFound({ subject: { part: "in-line fuse", owner }, meltsAfter });
    const made = { ...fed([battery, spare]), fuses: [later("battery", 90), later("spare battery", 5)] };
    expect(stillThrough(made)[0]).toMatch(
      /and by estimate the in-line fuse of the spare battery melts only 5 s later\.$/,
    );
  });
});
