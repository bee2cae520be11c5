import { describe, expect, test } from "vitest";
import { translateCase } from "../../packages/sim/src/reference/translate.ts";
import { put, readCases, type Tree } from "./put.ts";

const [{ case: first }] = readCases();

/** A case as a scenario, with changes to the one of a supply, a fuse, an SCR and a radio. */
function translated(change: (given: Tree) => void = () => {}) {
  const given = structuredClone(first);
  change(given);
  return translateCase(given);
}

/** The same with other fields at a place. */
const withFields = (place: string, changes: object) =>
  translated((given) => {
    for (const [key, value] of Object.entries(changes)) put(given, `${place}.${key}`, value);
  });

const LEAD = { L: 1e-6, R_wire: 0.01, area: 4e-6, tau_w: 60 };

test("nodes that a case leaves out are those of the physics, each by itself", () => {
  const { nodes } = translated((given) => {
    given.nodes = { C2: 5e-6, r3: 2 };
  });
  expect(nodes).toEqual({
    supplySide: { capacitance: 1e-7, resistance: 1 },
    protectedSide: { capacitance: 5e-6, resistance: 0.2 },
    radioSide: { capacitance: 1e-7, resistance: 2 },
  });
});

test("parts that a case does not have are none", () => {
  const bare = translated((given) => {
    for (const part of ["board_fuse", "scr"]) delete given[part];
  });
  expect(bare).toMatchObject({ mainFuse: null, crowbar: null, clamp: null, seriesSwitch: null });
});

test("a fuse starts cold only where it is told to, and clears within 1 µs where nothing is said", () => {
  const fuseOf = (change: object) => withFields("board_fuse", change).mainFuse;
  expect(fuseOf({ start: "cold", t_ext: 2e-6, T_melt: 420 })).toMatchObject({
    start: "cold",
    extinctionTime: 2e-6,
    meltingTemperature: 420,
  });
  expect(fuseOf({ start: "warm", t_ext: undefined })).toMatchObject({
    start: "warm",
    extinctionTime: 1e-6,
    meltingTemperature: null,
  });
});

describe("a panel", () => {
  const panel = (fault: object | undefined) =>
    translated((given) => {
      given.feeds = [
        { kind: "panel", name: "roof", lead: LEAD, I_sc: 5.8, V_oc: 22, V_a: 1.4, C_o: 1e-4, r_o: 0.1, fault },
      ];
    }).sources[0];

  test("is translated with its curve", () => {
    expect(panel(undefined)).toMatchObject({
      kind: "panel",
      name: "roof",
      shortCircuitCurrent: 5.8,
      openCircuitVoltage: 22,
      kneeVoltage: 1.4,
      fault: { kind: "none" },
    });
  });

  test("feeds the line once its controller is shorted, and else does not", () => {
    expect(panel({ kind: "controller shorted" })).toMatchObject({ fault: { kind: "shorted controller" } });
    expect(panel({ kind: "none" })).toMatchObject({ fault: { kind: "none" } });
  });
});

describe("a supply", () => {
  const supplyWith = (change: object) => withFields("feeds.0", change).sources[0];

  test.each([
    [{ style: "none" }, { style: "none" }],
    [
      { style: "foldback", I_0: 20, I_sc: 4 },
      { style: "foldback", current: 20, shortCircuitCurrent: 4 },
    ],
    [
      { style: "latch off", I_0: 20, t_detect: 0.01 },
      { style: "latch off", current: 20, detectionTime: 0.01 },
    ],
    [
      { style: "hiccup", I_0: 20, t_detect: 0.01, t_off: 0.3, t_ramp: 0.02 },
      { style: "hiccup", current: 20, detectionTime: 0.01, offTime: 0.3, rampTime: 0.02 },
    ],
  ])("is limited as %j says", (given, limit) => {
    expect(supplyWith({ limit: given })).toMatchObject({ limit });
  });

  test.each([
    [undefined, { kind: "none" }],
    [{ kind: "none" }, { kind: "none" }],
    [
      { kind: "setting raised", V_end: 17, slew: 2 },
      { kind: "voltage turned up", endVoltage: 17, slew: 2 },
    ],
    [
      { kind: "feedback lost", V_ceiling: 19, slew: 30 },
      { kind: "lost feedback", ceilingVoltage: 19, slew: 30 },
    ],
  ])("breaks as %j says", (fault, expected) => {
    expect(supplyWith({ fault })).toMatchObject({ fault: expected });
  });

  test("shuts down by itself where the case gives it the means, also for lost feedback only where that is said", () => {
    const ovp = { V_ovp: 17, t_ovp: 0.001 };
    expect(supplyWith({ ovp })).toMatchObject({ shutdown: { voltage: 17, delay: 0.001, worksOnLostFeedback: false } });
    expect(supplyWith({ ovp: { ...ovp, works_on_feedback_lost: true } })).toMatchObject({
      shutdown: { worksOnLostFeedback: true },
    });
    expect(supplyWith({})).toMatchObject({ shutdown: null });
  });

  test("hangs on mains of 60 Hz where nothing else is said", () => {
    const reservoir = { V_raw: 24, R_raw: 0.1, C_res: 0.02, R_drop: 0.02, ripple: true };
    expect(supplyWith({ reservoir })).toMatchObject({ reservoir: { ripple: true, mainsFrequency: 60 } });
    expect(supplyWith({ reservoir: { ...reservoir, f_mains: 50 } })).toMatchObject({
      reservoir: { mainsFrequency: 50 },
    });
    expect(supplyWith({ reservoir: undefined })).toMatchObject({ reservoir: null });
  });
});

test("a load's schedule and the times that it stands come with it", () => {
  const loadWith = (change: object) => withFields("loads.0", change).loads[0];
  expect(loadWith({ withstand: undefined })).toMatchObject({ schedule: [], limits: { withstand: [] } });
  expect(loadWith({ schedule: [{ t: 2, value: 90 }], withstand: [{ V: 16.5, t: 0.05 }] })).toMatchObject({
    schedule: [{ time: 2, value: 90 }],
    limits: { withstand: [{ voltage: 16.5, time: 0.05 }] },
  });
});

describe("a series switch", () => {
  const SWITCH = { kind: "relay", R_on: 0.002, tau_f: 1e-5, V_off: 15.5, t_open: 0.005, V_arc: 15, I_ext: 0.1 };
  const switchOf = (change: object) =>
    translated((given) => {
      given.switch = { ...SWITCH, t_ext: 1e-5, sense: "supply", ...change };
    }).seriesSwitch;

  test("senses on the side that the case names", () => {
    expect(switchOf({})).toMatchObject({ kind: "relay", sense: "supply side", offVoltage: 15.5 });
    expect(switchOf({ sense: "guarded", kind: "transistor" })).toMatchObject({
      kind: "transistor",
      sense: "protected side",
    });
  });

  test("closes again only where the case says that it does", () => {
    expect(switchOf({})?.reclose).toBeNull();
    expect(switchOf({ recloses: true, V_on: 14, t_retry: 3 })?.reclose).toEqual({ onVoltage: 14, retryTime: 3 });
  });
});
