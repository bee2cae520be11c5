import type {
  Clamp,
  Crowbar,
  CurrentLimit,
  Fuse,
  Lead,
  Load,
  Scenario,
  SeriesSwitch,
  Source,
  SupplyFault,
} from "../scenario/types.ts";
import { type Fields, fields, list, number, optional, text, truth } from "./fields.ts";

/** The rating windows are not compared here; they only have to exist. */
const NO_WINDOWS: Crowbar["ratings"]["surgeWindows"] = [];

/** A reference case in the symbols of the physics as a complete scenario. @throws BadCase where a value is missing or of the wrong kind. */
export function translateCase(value: unknown): Scenario {
  const c = fields(value, "case");
  const nodes = fields(c.nodes, "nodes");
  const node = (k: 1 | 2 | 3, capacitance: number, resistance: number) => ({
    capacitance: optional(nodes, `C${k}`) ?? capacitance,
    resistance: optional(nodes, `r${k}`) ?? resistance,
  });
  return {
    title: text(c, "name"),
    ambient: number(c, "T_amb"),
    faultTime: number(c, "t_fault"),
    endTime: number(c, "t_end"),
    start: "operating",
    nodes: { supplySide: node(1, 1e-7, 1), protectedSide: node(2, 1e-6, 0.2), radioSide: node(3, 1e-7, 1) },
    sources: list(c, "feeds").map(source),
    loads: list(c, "loads").map(load),
    mainFuse: c.board_fuse ? fuse(fields(c.board_fuse, "board_fuse"), "main fuse") : null,
    crowbar: c.scr ? crowbar(fields(c.scr, "scr")) : null,
    clamp: c.clamp ? clamp(fields(c.clamp, "clamp")) : null,
    seriesSwitch: c.switch ? seriesSwitch(fields(c.switch, "switch")) : null,
  };
}

function lead(value: unknown, leadFuse: unknown): Lead {
  const l = fields(value, "lead");
  return {
    inductance: number(l, "L"),
    resistance: number(l, "R_wire"),
    copperArea: number(l, "area"),
    thermalTimeConstant: number(l, "tau_w"),
    insulation: { continuous: 70, shortCircuit: 160 },
    fuse: leadFuse ? fuse(fields(leadFuse, "lead_fuse"), "in-line fuse") : null,
    contact: null,
  };
}

function fuse(f: Fields, label: string): Fuse {
  const start = text(f, "start");
  return {
    label,
    ratedCurrent: null,
    ratedVoltage: number(f, "V_rated"),
    breakingCapacity: null,
    nominalMeltingI2t: null,
    coldResistance: number(f, "R_cold"),
    resistanceRatio: number(f, "k"),
    minimumMeltingCurrent: number(f, "I_inf"),
    stages: list(f, "stages").map((value) => {
      const stage = fields(value, "stages");
      return { weight: number(stage, "w"), timeConstant: number(stage, "tau") };
    }),
    arcVoltage: number(f, "V_arc"),
    extinctionCurrent: number(f, "I_ext"),
    extinctionTime: optional(f, "t_ext") ?? 1e-6,
    meltingTemperature: optional(f, "T_melt"),
    start: start === "cold" ? "cold" : "warm",
  };
}

function source(value: unknown): Source {
  const f = fields(value, "feeds");
  const name = text(f, "name");
  const kind = text(f, "kind");
  const base = { name, lead: lead(f.lead, f.lead_fuse), diode: null };
  const faultFields = f.fault ? fields(f.fault, "fault") : null;
  if (kind === "battery") {
    return {
      ...base,
      kind: "battery",
      emf: number(f, "EMF_0"),
      internalResistance: number(f, "R_int"),
      capacityAh: number(f, "capacity_Ah"),
      initialCharge: number(f, "SOC_0"),
      emfPerCharge: number(f, "dEMF_dSOC"),
      emfTable: null,
    };
  }
  if (kind === "panel") {
    return {
      ...base,
      kind: "panel",
      shortCircuitCurrent: number(f, "I_sc"),
      openCircuitVoltage: number(f, "V_oc"),
      kneeVoltage: number(f, "V_a"),
      outputCapacitance: number(f, "C_o"),
      esr: number(f, "r_o"),
      fault: {
        kind: faultFields && text(faultFields, "kind") === "controller shorted" ? "shorted controller" : "none",
      },
    };
  }
  const reservoir = f.reservoir ? fields(f.reservoir, "reservoir") : null;
  const ovp = f.ovp ? fields(f.ovp, "ovp") : null;
  return {
    ...base,
    kind: "supply",
    setVoltage: number(f, "V_set"),
    sourceResistance: number(f, "R_s"),
    responseTime: number(f, "tau_s"),
    outputCapacitance: number(f, "C_o"),
    esr: number(f, "r_o"),
    bleederResistance: number(f, "R_bleed"),
    limit: limit(fields(f.limit, "limit")),
    reservoir: reservoir
      ? {
          rawVoltage: number(reservoir, "V_raw"),
          rawResistance: number(reservoir, "R_raw"),
          capacitance: number(reservoir, "C_res"),
          dropOutResistance: number(reservoir, "R_drop"),
          ripple: truth(reservoir, "ripple"),
          mainsFrequency: optional(reservoir, "f_mains") ?? 60,
        }
      : null,
    shutdown: ovp
      ? {
          voltage: number(ovp, "V_ovp"),
          delay: number(ovp, "t_ovp"),
          worksOnLostFeedback: truth(ovp, "works_on_feedback_lost"),
        }
      : null,
    ownCrowbar: null,
    switchOn: { time: 0, rampTime: 0 },
    fault: supplyFault(faultFields),
  };
}

function limit(f: Fields): CurrentLimit {
  const style = text(f, "style");
  switch (style) {
    case "none":
      return { style };
    case "constant current":
      return { style, current: number(f, "I_0") };
    case "foldback":
      return { style, current: number(f, "I_0"), shortCircuitCurrent: number(f, "I_sc") };
    case "hiccup":
      return {
        style,
        current: number(f, "I_0"),
        detectionTime: number(f, "t_detect"),
        offTime: number(f, "t_off"),
        rampTime: number(f, "t_ramp"),
      };
    case "latch off":
      return { style, current: number(f, "I_0"), detectionTime: number(f, "t_detect") };
    default:
      return f.unknown("style", style, "none, constant current, foldback, hiccup, latch off");
  }
}

function supplyFault(f: Fields | null): SupplyFault {
  const kind = f ? text(f, "kind") : "none";
  if (!f || kind === "none") return { kind: "none" };
  switch (kind) {
    case "setting raised":
      return { kind: "voltage turned up", endVoltage: number(f, "V_end"), slew: number(f, "slew") };
    case "feedback lost":
      return { kind: "lost feedback", ceilingVoltage: number(f, "V_ceiling"), slew: number(f, "slew") };
    case "pass element shorted":
      return { kind: "shorted pass transistor", passResistance: number(f, "R_pass") };
    default:
      return f.unknown("kind", kind, "none, setting raised, feedback lost, pass element shorted");
  }
}

function load(value: unknown): Load {
  const f = fields(value, "loads");
  const kind = text(f, "kind");
  const base = {
    name: text(f, "name"),
    lead: lead(f.lead, f.lead_fuse),
    inputCapacitance: number(f, "C_l"),
    esr: number(f, "r_l"),
    limits: {
      minimum: number(f, "v_min"),
      maximum: number(f, "v_max"),
      withstand: (f.withstand ? list(f, "withstand") : []).map((entry) => {
        const level = fields(entry, "withstand");
        return { voltage: number(level, "V"), time: number(level, "t") };
      }),
      withstandAssumed: false,
    },
    schedule: (f.schedule ? list(f, "schedule") : []).map((entry) => {
      const change = fields(entry, "schedule");
      return { time: number(change, "t"), value: number(change, "value") };
    }),
    clamp: null,
    dropOut: null,
  };
  switch (kind) {
    case "resistive":
      return { ...base, kind, resistance: number(f, "R") };
    case "constant current":
      return { ...base, kind, current: number(f, "I"), kneeVoltage: number(f, "V_knee") };
    case "constant power":
      return { ...base, kind, power: number(f, "P"), kneeVoltage: number(f, "V_knee") };
    case "lamp":
      return {
        ...base,
        kind,
        nominalPower: number(f, "P_0"),
        nominalVoltage: number(f, "V_n"),
        nominalTemperature: number(f, "T_n"),
        coldTemperature: number(f, "T_0"),
        exponent: number(f, "a"),
        heatCapacity: number(f, "C_th"),
      };
    default:
      return f.unknown("kind", kind, "resistive, constant current, constant power, lamp");
  }
}

function crowbar(f: Fields): Crowbar {
  const variant = text(f, "variant");
  if (variant !== "plain" && variant !== "held" && variant !== "latched")
    return f.unknown("variant", variant, "plain, held, latched");
  return {
    label: "SCR",
    variant,
    tripVoltage: number(f, "V_trip"),
    senseTimeConstant: number(f, "tau_f"),
    gateDelay: number(f, "t_gate"),
    thresholdVoltage: number(f, "V_T0"),
    slopeResistance: number(f, "r_T"),
    stubResistance: 0,
    inductance: number(f, "L_scr"),
    inductanceAssumed: false,
    leakResistance: number(f, "R_leak"),
    holdingCurrent: number(f, "I_H"),
    latchingCurrent: 0,
    turnOffTime: number(f, "t_q"),
    failTemperature: number(f, "T_fail"),
    junctionStages: list(f, "foster").map((value) => {
      const stage = fields(value, "foster");
      return { resistance: number(stage, "R"), timeConstant: number(stage, "tau") };
    }),
    caseToAmbient: number(f, "R_thCA"),
    caseHeatCapacity: number(f, "C_case"),
    ratings: {
      surgeCurrent: number(f, "I_surge"),
      i2t: number(f, "I2t_rating"),
      junctionTemperature: number(f, "Tj_max"),
      currentRise: null,
      surgeWindows: NO_WINDOWS,
    },
  };
}

function clamp(f: Fields): Clamp {
  return {
    label: "clamp",
    breakdownVoltage: number(f, "V_BR"),
    slopeResistance: number(f, "r_d"),
    thermalResistance: number(f, "R_th"),
    thermalTimeConstant: number(f, "tau"),
    failsShort: truth(f, "fails_short"),
    shortResistance: number(f, "R_short"),
    ratings: { energy: number(f, "E_rating"), peakCurrent: null, temperature: null },
  };
}

function seriesSwitch(f: Fields): SeriesSwitch {
  const kind = text(f, "kind");
  if (kind !== "transistor" && kind !== "relay") return f.unknown("kind", kind, "transistor, relay");
  return {
    label: kind,
    kind,
    resistance: number(f, "R_on"),
    sense: text(f, "sense") === "guarded" ? "protected side" : "supply side",
    senseTimeConstant: number(f, "tau_f"),
    offVoltage: number(f, "V_off"),
    openingTime: number(f, "t_open"),
    arcVoltage: number(f, "V_arc"),
    extinctionCurrent: number(f, "I_ext"),
    extinctionTime: number(f, "t_ext"),
    reclose: truth(f, "recloses") ? { onVoltage: number(f, "V_on"), retryTime: number(f, "t_retry") } : null,
    ratings: { current: null, voltage: null },
  };
}
