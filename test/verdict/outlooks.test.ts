import { describe, expect, test } from "vitest";
import type { LongRun } from "../../packages/sim/src/model/result.ts";
import type { Panel, Source } from "../../packages/sim/src/scenario/types.ts";
import { firstLimit } from "../../packages/sim/src/verdict/clamp-outlook.ts";
import { partsInRounds } from "../../packages/sim/src/verdict/round-outlook.ts";
import { clampFound, fuseFound, judged, loadFound, run, sourceFound, trace } from "./fixtures.ts";
import { battery, clamp, lead, radio, supply } from "./parts.ts";

describe("a clamp that goes on taking a mean power", () => {
  // 1 K/W and 10 ms; 2 J; 150 °C.
  const now = (over: object) => ({ power: 100, energy: 0.5, rise: 0, swing: 0, ...over });

  test("comes to its energy rating when the rest of it has been taken", () => {
    expect(firstLimit(clamp, 25, now({}))).toEqual({
      after: (2 - 0.5) / 100,
      says: "fails short at its energy rating of 2 J",
    });
    expect(firstLimit({ ...clamp, failsShort: false }, 25, now({}))?.says).toBe("passes its energy rating of 2 J");
    expect(firstLimit(clamp, 25, now({ energy: 2.5 }))?.after).toBe(0);
  });

  test("comes to its temperature limit first where that is sooner, by the equation of its junction", () => {
    const [power, rise] = [300, 20];
    const limit = firstLimit(clamp, 25, now({ power, rise }));
    expect(limit?.says).toBe("passes its temperature limit of 150 °C");
    // τ·dT/dt = P·R − T from 20 K to 125 K, by midpoints.
    const count = 2000;
    let after = 0;
    for (let k = 0; k < count; k++) {
      const at = rise + ((k + 0.5) / count) * (125 - rise);
      after += ((125 - rise) / count) * (0.01 / (power * 1 - at));
    }
    expect(limit?.after).toBeCloseTo(after, 8);
    expect(limit?.after).toBeLessThan((2 - 0.5) / power);
  });

  test("is there at once where it is too hot already; peaks above the mean take room away", () => {
    expect(firstLimit(clamp, 25, now({ rise: 125 }))?.says).toContain("energy rating");
    expect(firstLimit(clamp, 25, now({ power: 300, rise: 125 }))).toMatchObject({ after: 0 });
    const swinging = firstLimit(clamp, 25, now({ power: 300, rise: 20, swing: 50 }));
    expect(swinging?.after).toBeCloseTo(0.01 * Math.log((300 - 20) / (300 - 75)), 12);
    // 100 W settle at 100 K: below 125 K for ever, above 75 K.
    expect(firstLimit(clamp, 25, now({ rise: 20, swing: 50 }))?.says).toContain("temperature limit");
  });

  test("without a known temperature limit only the energy counts; what takes more than a year counts as never", () => {
    const unrated = { ...clamp, ratings: { ...clamp.ratings, temperature: null } };
    expect(firstLimit(unrated, 25, now({ power: 300, rise: 20 }))?.says).toContain("energy rating");
    const year = 365 * 86_400;
    expect(firstLimit(clamp, 25, now({ power: 1.5 / (year - 1) }))?.after).toBeCloseTo(year - 1, 0);
    expect(firstLimit(clamp, 25, now({ power: 1.5 / (year + 1) }))).toBeNull();
  });
});

describe("a clamp that conducts when the run ends", () => {
  const conducting = (amperes: number, found = {}, melts: number | null = null, spec = clamp) =>
    judged(
      run(
        {
          crowbar: null,
          clamp: clampFound(found),
          fuses: [fuseFound({ meltsAfter: melts })],
          trace: trace([0, 0.3], { radio_V: [13.5, 15], clamp_A: [0, amperes] }),
        },
        { crowbar: null, clamp: spec },
      ),
    ).pending.filter(({ kind }) => kind === "clamp conducting");

  test("by the power of its last current: 20 A through 16 V and 0.1 Ω are 360 W, so 1.5 J take 4.2 ms", () => {
    const cool = { ...clamp, ratings: { ...clamp.ratings, temperature: null } };
    expect(conducting(20, {}, null, cool)).toEqual([
      {
        subject: "clamp",
        kind: "clamp conducting",
        sentence:
          "The clamp still conducts 20 A when the run ends. Estimate: at that current it fails short at its energy rating of 2 J about 300 ms after the fault, unless somebody acts before.",
        passesRating: true,
        endedBy: null,
      },
    ]);
    const long = conducting(0.01, {}, null, cool)[0];
    // 0.16001 W: 9.4 s.
    expect(long?.sentence).toContain("about 9.7 s after the fault");
  });

  test("a fuse that melts before spares it, one that melts later does not", () => {
    const [spared] = conducting(20, {}, 0.0001);
    expect(spared).toMatchObject({ passesRating: false, endedBy: "main fuse" });
    expect(spared?.sentence).toMatch(/the main fuse melts about .*, before it comes to a limit\.$/);
    expect(conducting(20, {}, 1)[0]).toMatchObject({ passesRating: true, endedBy: null });
  });

  test("one beyond a limit is told so; one that failed, or carries nothing, is not waited for", () => {
    expect(conducting(20, { energy: 3 })[0]?.sentence).toContain("it is beyond a limit already and goes on from there");
    expect(conducting(20, { failedShort: true, failTime: 0.1 })).toEqual([]);
    expect(conducting(0)).toEqual([]);
  });
});

describe("a battery that is being charged: how far, by what charges it", () => {
  // Its EMF goes from 12.8 V at 90 % up by 1 V per full charge.
  const charged = (others: readonly Source[], found: Partial<ReturnType<typeof sourceFound>> = {}, over = {}) => {
    const sources = [battery, ...others];
    return judged(
      run(
        {
          sources: [
            sourceFound({ name: "battery", charge: { end: 0.9, lowest: 0.9, highest: 0.9 } }),
            ...others.map(({ name }) => sourceFound({ name, ...found })),
          ],
          trace: trace([0, 3600], { radio_V: [13.2, 13.2], battery_A: [-10, -10] }),
          loads: [loadFound()],
          ...over,
        },
        { sources, endTime: 3600 },
      ),
    ).pending;
  };
  const fate = (...args: Parameters<typeof charged>) =>
    charged(...args).find(({ kind }) => kind === "charging") ?? { sentence: "", passesRating: null };
  const from = (over: Partial<typeof supply>, fault: (typeof supply)["fault"] = { kind: "none" }) => ({
    ...supply,
    ...over,
    fault,
  });
  const panel: Panel = {
    kind: "panel",
    name: "panel",
    lead,
    diode: null,
    shortCircuitCurrent: 6,
    openCircuitVoltage: 21,
    kneeVoltage: 1,
    outputCapacitance: 1e-3,
    esr: 0.05,
    fault: { kind: "shorted controller" },
  };
  const diode = { forwardVoltage: 0.5, resistance: 0.01 } as NonNullable<Source["diode"]>;

  test.each([
    ["12.85 V by its supply", [from({ setVoltage: 12.85 })], "95 %"],
    ["0.5 V lost in a diode", [from({ setVoltage: 13.35, diode })], "95 %"],
    ["13.8 V turned to 12.9 V", [from({}, { kind: "voltage turned up", endVoltage: 12.9, slew: 1 })], "100 %"],
    [
      "12.85 V turned up to 12.88 V",
      [from({ setVoltage: 12.85 }, { kind: "voltage turned up", endVoltage: 12.88, slew: 1 })],
      "98 %",
    ],
    [
      "a panel whose controller works gives nothing",
      [from({ setVoltage: 12.85 }), { ...panel, fault: { kind: "none" } }],
      "95 %",
    ],
    [
      "a panel whose lead is open gives nothing",
      [from({ setVoltage: 12.85 }), { ...panel, lead: { ...lead, contact: { initially: "open" } } }],
      "95 %",
    ],
    ["a battery of 12.84 V beside it", [from({ setVoltage: 12.8 }), { ...battery, name: "other", emf: 12.84 }], "94 %"],
  ] as const)("%s", (_, others, reach) => {
    const { sentence, passesRating } = fate(others as unknown as Source[]);
    expect(sentence).toContain(`takes it to ${reach} and no farther`);
    expect(passesRating).toBe(false);
  });

  test.each([
    ["a panel", [panel]],
    [
      "feedback lost, up to 16 V",
      [from({ setVoltage: 12.85 }, { kind: "lost feedback", ceilingVoltage: 16, slew: 1 })],
    ],
    [
      "a shorted pass transistor, 24 V raw",
      [from({ setVoltage: 12.85 }, { kind: "shorted pass transistor", passResistance: 0.05 })],
    ],
    ["what nobody knows", []],
  ] as const)("%s overcharges it", (_, others) => {
    expect(fate(others as unknown as Source[])).toMatchObject({ passesRating: true });
  });

  test("a raw voltage bounds what feedback that is lost can give, and a supply that latched off gives nothing", () => {
    const low = { ...supply.reservoir!, rawVoltage: 12.87 };
    const lost = from({ setVoltage: 12.5, reservoir: low }, { kind: "lost feedback", ceilingVoltage: 16, slew: 1 });
    expect(fate([lost]).sentence).toContain("takes it to 97 % and no farther");
    const off = fate([from({ setVoltage: 12.85 }), { ...panel, openCircuitVoltage: 12.83 }], {
      stateAtEnd: "latched off",
    });
    expect(off.sentence).toContain("takes it to 93 % and no farther");
  });

  test.each([
    [["contact opens", "contact arc ends"], false],
    [["contact opens"], true],
    [["contact opens", "contact arc ends", "contact closes"], true],
  ] as const)("a panel whose lead went through %j overcharges it: %s", (kinds, passesRating) => {
    const switched = { ...panel, lead: { ...lead, contact: { initially: "closed" } } } as unknown as Source;
    const events = kinds.map((kind, k) => ({
      kind,
      time: k,
      cause: "",
      sincePrevious: 0,
      values: {},
      subject: { part: "source", owner: "panel" },
    }));
    const others = [from({ setVoltage: 12.85 }), switched] as Source[];
    const told = charged(others, {}, { events } as never).find(({ kind }) => kind === "charging");
    expect(told?.passesRating).toBe(passesRating);
  });

  test("a load goes up with it: 2.7 V of room are there when the EMF has risen as much", () => {
    const rising = charged([panel]).filter(({ kind }) => kind === "voltage rising with charge");
    // 2.7 V at 1 V per 100 Ah are 270 Ah, 27 h at 10 A, and one hour had gone by.
    expect(rising).toEqual([
      expect.objectContaining({
        subject: "radio",
        passesRating: true,
        sentence: expect.stringMatching(/passes its maximum of 15\.9 V about 28 h \(1\.2 days\) after the fault/),
      }),
    ]);
    expect(charged([{ ...panel, openCircuitVoltage: 15.4 }]).map(({ kind }) => kind)).not.toContain(
      "voltage rising with charge",
    );
    const above = { trace: trace([0, 3600], { radio_V: [13.2, 16], battery_A: [-10, -10] }) };
    expect(charged([panel], {}, above).map(({ kind }) => kind)).not.toContain("voltage rising with charge");
  });
});

describe("clamps and leads that rounds heat", () => {
  const estimate = (over: Partial<LongRun>): LongRun => ({
    meanPower: 4,
    restTemperature: 47,
    timeToJunctionLimit: null,
    swing: 0,
    timeToPeakLimit: null,
    fuses: [],
    clamps: [],
    leads: [],
    ...over,
  });
  const PERIOD = 0.6;
  const clampAt = (found: object, meanPower: number) =>
    partsInRounds(
      run({ clamp: clampFound({ energy: 0.5, endRise: 0, peakRise: 0, ...found }) }, { clamp }),
      estimate({ clamps: [{ subject: { part: "clamp", owner: "" }, meanPower }] }),
      PERIOD,
    );

  test("a clamp: when its energy rating has been taken, counted from the end of the run", () => {
    // 1.5 J at 0.1 W.
    expect(clampAt({}, 0.1)).toEqual([
      { time: expect.closeTo(0.3 + 15, 9), says: "the clamp fails short at its energy rating of 2 J" },
    ]);
    expect(clampAt({}, 0)).toEqual([]);
    expect(clampAt({ failedShort: true }, 0.1)).toEqual([]);
  });

  test("a clamp: peaks that stand above the mean heat it past its limit, a mean alone does not", () => {
    const limits = (peakRise: number) => clampAt({ peakRise, endRise: 10 }, 0.1).map(({ says }) => says);
    expect(limits(120)[0]).toContain("energy rating");
    // 0.1 K of mean and 126 K above the 10 K that were there: past the 125 K of room as soon as it is counted.
    expect(limits(136)[0]).toContain("temperature limit");
  });

  test("a lead: by the copper's own equation with the mean of the squared current", () => {
    const thin = { ...lead, copperArea: 2.5e-6 };
    const passing = (continuous: number, meanSquare: number) =>
      partsInRounds(
        run({}, { loads: [{ ...radio, lead: { ...thin, insulation: { continuous, shortCircuit: 160 } } }] }),
        estimate({ leads: [{ owner: "radio", meanSquare }] }),
        PERIOD,
      );
    // IEC 60949: K = 226 A·s^½/mm², β = 234.5 °C. A wire of held resistance heats by 5e-15·i²/A² K/s, so by 0.8 K/s at 1000 A², and copper by
    // (θ + β)/(5e-15·K²) of that; it cools with 60 s. A round's own heat, 0.48 K, comes at once.
    const [from, to] = [25 + 0.3, 70 - 0.8 * PERIOD];
    const speed = (theta: number) => (0.8 * (theta + 234.5)) / (5e-15 * 226e6 ** 2) - (theta - 25) / 60;
    const count = 4000;
    let seconds = 0;
    for (let k = 0; k < count; k++) seconds += (to - from) / count / speed(from + ((k + 0.5) / count) * (to - from));
    const [found] = passing(70, 1000);
    expect(found?.says).toBe(
      "the copper of the lead of the radio passes the 70 °C that its insulation allows continuously",
    );
    expect(found?.time).toBeGreaterThan(60);
    // The copper's rise so far is told as that of a wire of held resistance, 0.3 K of which are 0.3 K of copper.
    expect(Math.abs((found?.time ?? 0) - 0.3 - seconds)).toBeLessThan(1e-3 * seconds);
    // 1000 A² settle at 85 °C.
    expect(passing(105, 1000)).toEqual([]);
    expect(passing(70, 0)).toEqual([]);
  });
});
