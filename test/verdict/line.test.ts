import { describe, expect, test } from "vitest";
import {
  blown,
  clampFound,
  finding,
  fuseFound,
  judged,
  leadFound,
  loadFound,
  run,
  switchFound,
  trace,
} from "./fixtures.ts";
import { clamp, radio, seriesSwitch } from "./parts.ts";

describe("leads", () => {
  const lasting = (total: number) => ({ overcurrent: { level: 40, total, longest: total, area: 0 } });
  const hot = (peakRise: number, above: number) => {
    // Heated by the overcurrent alone: rise·A²/κ of 4 mm².
    const overcurrentI2t = above > 0 ? (peakRise * 4e-6 ** 2) / 5e-15 : 0;
    const leads = [
      leadFound({ peakRise, overcurrentI2t, peakCurrent: 400, ...lasting(above) }),
      leadFound({ owner: "radio", peakCurrent: 20 }),
    ];
    const short = peakRise > 45 && above < 5;
    return finding(
      judged(run({ leads }, { endTime: 300 })),
      "lead of the supply",
      short ? "copper, short-circuit limit" : "copper, continuous limit",
    );
  };

  test("a short overcurrent is held against the short-circuit limit, a long one against the continuous limit", () => {
    expect(hot(100, 1).severity).toBe("ok");
    // At held resistance 100 K in the end; real copper heads for 167 K (100·(259.5 + rise)/255.4), and comes within 6 K in 299 s.
    const long = hot(100, 299);
    expect(long.severity).toBe("beyond");
    expect(long.sentence).toBe(
      "The copper of the lead of the supply reached 185.7 °C; its insulation allows 70 °C continuously: the insulation melts or burns. Fire hazard.",
    );
    expect(hot(200, 1).sentence).toContain(
      "allows 160 °C for a short circuit (overcurrent 1 s, below 5 s): the insulation melts",
    );
  });

  test("what is too hot in normal service is too hot in a short run as well", () => {
    const leads = [leadFound({ startRise: 60, peakRise: 61, ...lasting(1) }), leadFound({ owner: "radio" })];
    const verdict = judged(run({ leads }, { endTime: 1 }));
    expect(finding(verdict, "lead of the supply", "copper, continuous limit").severity).toBe("beyond");
    // 60 K at held resistance are 79.7 K; from 104.7 °C on: 226² · 4² · ln((160 + 234.5)/(104.7 + 234.5)).
    expect(finding(verdict, "lead of the supply", "I²t (IEC 60949)").rating).toBeCloseTo(
      226 ** 2 * 4 ** 2 * Math.log(394.5 / (259.5 + (259.5 * 60) / (5e-15 * 226e6 ** 2 - 60))),
      -1,
    );
  });

  test("where the surroundings alone are too hot no headroom is told, and no fuse for a remedy", () => {
    const leads = [leadFound({ startRise: 2e-5, peakRise: 4e-5 }), leadFound({ owner: "radio" })];
    const verdict = (ambient: number) => judged(run({ leads }, { ambient, endTime: 300 }));
    const copper = (ambient: number) => finding(verdict(ambient), "lead of the supply", "copper, continuous limit");
    expect(copper(80)).toMatchObject({ headroom: null, severity: "beyond", close: false });
    expect(copper(80).sentence).toBe(
      "The copper of the lead of the supply reached 80 °C; its insulation allows 70 °C continuously, and the surroundings alone are as hot or hotter. Fire hazard.",
    );
    expect(copper(70)).toMatchObject({ headroom: null, severity: "beyond" });
    expect(copper(70).sentence).toContain("the surroundings alone are as hot");
    expect(copper(69).headroom).toBeGreaterThan(1000);
    const steps = verdict(80).replace.join(" ");
    expect(steps).toContain(
      "Replace the lead of the supply: its insulation may be burnt. Another like it needs cooler surroundings.",
    );
    expect(steps).not.toContain("needs a fuse that protects it");
  });

  test("headroom is a ratio of rises", () => {
    expect(hot(30, 0).headroom).toBeCloseTo(45 / ((259.5 * 30) / (5e-15 * 226e6 ** 2 - 30)), 10);
  });

  test("a burnt one is to be replaced", () => {
    const verdict = judged(
      run({ leads: [leadFound(), leadFound({ owner: "radio", peakRise: 200, peakCurrent: 300 })] }),
    );
    expect(verdict.replace.join(" ")).toContain("Replace the lead of the radio: its insulation may be burnt.");
    expect(verdict.exitStatus).toBe(4);
  });

  test("beyond the melting point of copper the model says nothing more", () => {
    const verdict = judged(
      run({ leads: [leadFound({ peakRise: 9000, peakCurrent: 400, ...lasting(500) })] }, { endTime: 600 }),
    );
    const copper = finding(verdict, "lead of the supply", "copper, continuous limit");
    expect(copper.found).toBe(1084.6);
    expect(copper.sentence).toContain("reached 1085 °C and melts;");
  });

  test("I²t against IEC 60949 of overcurrents of a few seconds only, whatever the run's length", () => {
    // 226² · 4² · ln((160 + 234.5)/(25 + 234.5)) = 342 301 A²s.
    expect(finding(judged(run()), "lead of the supply", "I²t (IEC 60949)").rating).toBeCloseTo(342_301, -1);
    expect(finding(judged(run({}, { endTime: 60 })), "lead of the supply", "I²t (IEC 60949)").rating).toBeCloseTo(
      342_301,
      -1,
    );
    const lasts = [leadFound(lasting(6)), leadFound({ owner: "radio", ...lasting(0) })];
    expect(judged(run({ leads: lasts })).findings.filter(({ quantity }) => quantity.startsWith("I²t"))).toEqual([]);
    const over = judged(run({ leads: [leadFound({ overcurrentI2t: 4e5 })] }));
    expect(finding(over, "lead of the supply", "I²t (IEC 60949)").sentence).toContain("past its short-circuit limit");
  });
});

describe("clamp", () => {
  const clamped = (over: Parameters<typeof clampFound>[0], spec = clamp) =>
    judged(run({ clamp: clampFound(over) }, { clamp: spec }));

  test("inside its ratings", () => {
    const verdict = clamped({});
    expect(finding(verdict, "clamp", "energy").headroom).toBe(4);
    expect(finding(verdict, "clamp", "temperature").headroom).toBeCloseTo(125 / 60, 10);
    expect(verdict.done).toContain("The clamp took up to 20 A and 500 mJ in all.");
  });

  test("failed short: margins are those at the failure", () => {
    const verdict = clamped({
      failedShort: true,
      failTime: 0.02,
      energy: 90,
      peakCurrent: { value: 500, time: 0.03 },
      atFailure: { current: 50, rise: 100 },
    });
    expect(finding(verdict, "clamp", "energy").sentence).toBe(
      "The clamp reached its energy rating of 2 J at 20 ms and failed short: it is a short circuit across the line and may burn.",
    );
    expect(finding(verdict, "clamp", "peak current at its failure").found).toBe(50);
    expect(finding(verdict, "clamp", "temperature at its failure").found).toBe(125);
    expect(verdict.tooClose).toEqual([]);
    expect(verdict.exitStatus).toBe(4);
    expect(verdict.replace.join(" ")).toContain("Replace the clamp: it failed short.");
  });

  test("beyond its ratings without failing short: outcome unknown", () => {
    const verdict = clamped({ energy: 3, peakCurrent: { value: 80, time: 0 } }, { ...clamp, failsShort: false });
    expect(finding(verdict, "clamp", "energy").severity).toBe("unknown");
    expect(finding(verdict, "clamp", "peak current").severity).toBe("unknown");
  });

  test("energy within 0.1 % of the rating is too close to call", () => {
    expect(clamped({ energy: 2 * 0.9991 }).tooClose).toHaveLength(1);
    expect(clamped({ energy: 2 * 0.9989 }).tooClose).toEqual([]);
  });

  test("one at a load is named by it, one that never conducted says so", () => {
    const guarded = { ...radio, clamp };
    const verdict = judged(
      run(
        {
          loadClamps: [
            { load: "radio", findings: clampFound({ peakCurrent: { value: 0, time: 0 }, energy: 0, peakRise: 0 }) },
          ],
        },
        { loads: [guarded] },
      ),
    );
    expect(verdict.done).toContain("The clamp at the radio never conducted: it begins at 16 V.");
  });
});

describe("series switch", () => {
  const switched = (over: Parameters<typeof switchFound>[0], spec = seriesSwitch) =>
    judged(run({ crowbar: null, seriesSwitch: switchFound(over) }, { crowbar: null, seriesSwitch: spec }));

  test("opened once, stays open until reset", () => {
    const verdict = switched({});
    expect(verdict.done[0]).toBe(
      "The series switch began to open once, 100 µs after the fault; at the end it is open.",
    );
    expect(verdict.replace).toContain("Reset the series switch: it stays open until then.");
    expect(verdict.exitStatus).toBe(0);
  });

  test("beyond its voltage", () => {
    const verdict = switched({ peakVoltage: 35 });
    expect(finding(verdict, "series switch", "voltage to keep off").severity).toBe("beyond");
    expect(verdict.replace).toContain("Replace the series switch: it was used beyond its rating.");
    expect(verdict.replace.join(" ")).not.toContain("Reset the series switch");
    expect(verdict.exitStatus).toBe(4);
  });

  test("a transistor's avalanche is how it clears: told, but judged is what it keeps off once open", () => {
    const transistor = {
      ...seriesSwitch,
      kind: "transistor",
      arcVoltage: 40,
      ratings: { current: 40, voltage: 40 },
    } as const;
    const verdict = switched({ peakVoltage: 40.05 }, transistor);
    expect(finding(verdict, "series switch", "voltage to keep off").found).toBe(23.9);
    expect(finding(verdict, "series switch", "avalanche").sentence).toContain(
      "in avalanche at 40 V; the energy it stands so is not known",
    );
    expect(verdict.exitStatus).toBe(0);
    expect(finding(switched({ peakVoltage: 45 }, transistor), "series switch", "voltage to keep off").severity).toBe(
      "beyond",
    );
  });

  test("what it kept off is what stood across it while it was open, without its arcs", () => {
    const verdict = switched({ peakVoltage: 15.05, openVoltage: 14.2 });
    expect(finding(verdict, "series switch", "voltage to keep off").found).toBe(14.2);
  });

  test("an arc that it does not break", () => {
    expect(finding(switched({ state: "clearing" }), "series switch", "arc still burning").sentence).toContain(
      "the arc between its contacts still burns, 299 ms after its opening began: it does not break this current. Fire hazard.",
    );
  });

  test("never opened; too close at its level", () => {
    const verdict = switched({ starts: [], opens: [], state: "closed", peakSense: { value: 14.99, time: 0 } });
    expect(verdict.done[0]).toContain("never opened: behind its filter it saw 14.99 V, it opens at 15 V");
    expect(verdict.tooClose[0]?.subject).toBe("series switch");
  });

  test("ratings that nobody gave are not judged", () => {
    const verdict = switched({}, { ...seriesSwitch, ratings: { current: null, voltage: null } });
    expect(finding(verdict, "series switch", "current").severity).toBe("not rated");
  });
});

test("a clamp that failed short keeps the line dead, unless the fuse of its own load has cut it off", () => {
  const short = clampFound({ failedShort: true });
  const low = { level: 11.7, total: 0.298, longest: 0.298, area: 1 };
  const dead = (over: Parameters<typeof run>[0]) =>
    judged(
      run({
        loads: [loadFound({ belowMinimum: low })],
        trace: trace([0, 0.3], { radio_V: [13.5, 0.2] }),
        crowbar: null,
        ...over,
      }),
    ).loads[0]?.starved?.comesBack;
  const fuse = fuseFound({ ...blown, subject: { part: "in-line fuse", owner: "lamp" } });
  expect(dead({ clamp: clampFound() })).toBe("by itself");
  expect(dead({ clamp: short })).toBe("by hand");
  expect(dead({ loadClamps: [{ load: "radio", findings: short }] })).toBe("by hand");
  expect(dead({ loadClamps: [{ load: "lamp", findings: short }] })).toBe("by hand");
  expect(dead({ loadClamps: [{ load: "lamp", findings: short }], fuses: [fuse] })).toBe("by itself");
});
