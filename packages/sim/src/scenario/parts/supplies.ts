import { assumed, commonPractice, computed, partClass, published, transcribed } from "./cite.ts";
import type { Cited, PartClass } from "./types.ts";

const SET_VOLTAGE = commonPractice(13.8, "usual setting of a 12 V station supply");

/** Continuous over peak rating of a linear supply: "20 A" is often 20 A for good and 25 A at half duty. */
const PEAK = 1.25;

/** Of a supply for 20 A, scaled with the rating: ohm; and F/A. */
const RAW_RESISTANCE_OF_20 = 0.22;
const RIPPLE_RESISTANCE_OF_20 = 0.065;
const RESERVOIR_PER_AMPERE = 2500e-6;
const RAW_VOLTAGE = 24;

function linear(name: string, about: string, rating: number, limit: Record<string, Cited>, ripple: boolean): PartClass {
  const level = PEAK * rating;
  const outputCapacitance = 2.2e-3;
  const resistance = ripple
    ? commonPractice(
        RIPPLE_RESISTANCE_OF_20 * (20 / rating),
        "50 to 80 mohm behind a rectifier for 20 A; scaled with the rating",
      )
    : transcribed(
        RAW_RESISTANCE_OF_20 * (20 / rating),
        "0.2 to 0.25 ohm for 20 A: 95 to 120 A into a short; scaled with the rating",
      );
  return partClass("supply", name, about, {
    setVoltage: SET_VOLTAGE,
    outputCapacitance: commonPractice(outputCapacitance, "linear supplies: 0.1 to 5 mF"),
    esr: commonPractice(30e-3, "5 to 50 mohm"),
    responseTime: commonPractice(20e-6, "10 to 200 µs"),
    ...limit,
    "reservoir.rawVoltage": transcribed(
      RAW_VOLTAGE,
      "raw 19 to 25 V at load; outputs of 23 to 25 V with a shorted pass element",
    ),
    "reservoir.rawResistance": resistance,
    "reservoir.capacitance": transcribed(RESERVOIR_PER_AMPERE * rating, "2000 to 3000 µF per ampere"),
    "reservoir.ripple": assumed(
      ripple,
      ripple ? "its name" : "smoothed: a steady raw voltage behind a larger resistance",
    ),
    "fault.passResistance": assumed(50e-3, "shorted transistors with their emitter resistors and wiring"),
    "fault.ceilingVoltage": assumed(RAW_VOLTAGE, "nothing holds the output below the raw voltage"),
    "fault.slew": computed(level / outputCapacitance, "current limit over output capacitance, nothing drawn meanwhile"),
  });
}

const linearLimit = (rating: number): Cited =>
  commonPractice(PEAK * rating, "20 A for good is often 25 A at half duty: the limit lies there");
const style = (name: string): Cited => commonPractice(name, "its name");

interface SwitchMode {
  readonly name: string;
  readonly about: string;
  readonly level: number;
  readonly levelSource: string;
  readonly limit: Record<string, Cited>;
}

function switchMode({ name, about, level, levelSource, limit }: SwitchMode): PartClass {
  const outputCapacitance = 4.7e-3;
  return partClass("supply", name, about, {
    setVoltage: SET_VOLTAGE,
    outputCapacitance: commonPractice(outputCapacitance, "switch-mode supplies: 2 to 10 mF"),
    esr: commonPractice(15e-3, "switch-mode supplies: 5 to 50 mohm"),
    responseTime: commonPractice(50e-6, "10 to 200 µs"),
    "limit.current": commonPractice(level, levelSource),
    ...limit,
    "fault.ceilingVoltage": commonPractice(22, "1.3 to 2 times nominal; 1.6 times here"),
    "fault.slew": computed(level / outputCapacitance, "current limit over output capacitance, nothing drawn meanwhile"),
  });
}

/** Station supplies, kind `supply`. `fault.slew` belongs to lost feedback; how fast a knob is turned is the user's to say. */
export const SUPPLIES: readonly PartClass[] = [
  ...[20, 35].map((rating) =>
    linear(
      `linear supply ${rating} A`,
      "linear regulator behind a smoothed reservoir, constant-current limit",
      rating,
      { "limit.style": style("constant current"), "limit.current": linearLimit(rating) },
      false,
    ),
  ),
  linear(
    "linear supply 20 A, ripple",
    "linear regulator behind a rectifier with its ripple, constant-current limit",
    20,
    { "limit.style": style("constant current"), "limit.current": linearLimit(20) },
    true,
  ),
  linear(
    "linear supply 20 A, foldback",
    "linear regulator behind a smoothed reservoir, foldback limit",
    20,
    {
      "limit.style": style("foldback"),
      "limit.current": linearLimit(20),
      "limit.shortCircuitCurrent": published(0.3 * PEAK * 20, "foldback: 10 to 50 % of the knee; 30 % here"),
    },
    false,
  ),
  switchMode({
    name: "switch-mode supply 30 A, hiccup",
    about: "switch-mode, stops and tries again on overload",
    level: 34.5,
    levelSource: "hiccup at 105 to 125 % of the rating, 115 % here; controllers alone reach about 150 %",
    limit: {
      "limit.style": style("hiccup"),
      "limit.detectionTime": published(3e-3, "controller sheets: 0.1 to 10 ms"),
      "limit.offTime": published(300e-3, "controller sheets: 50 to 700 ms, about 97 times the detection in one family"),
      "limit.rampTime": published(20e-3, "controller sheets: 5 to 50 ms"),
    },
  }),
  switchMode({
    name: "switch-mode supply 30 A, constant current",
    about: "switch-mode, holds its limit on overload",
    level: 33,
    levelSource: "limit at about 110 % of the rating",
    limit: { "limit.style": style("constant current") },
  }),
  switchMode({
    name: "switch-mode supply 25 A, latch off",
    about: "switch-mode, stays off after an overload",
    level: 28.75,
    levelSource: "limit at 105 to 125 % of the rating, 115 % here",
    limit: {
      "limit.style": style("latch off"),
      "limit.detectionTime": published(5e-3, "controller sheets: 0.1 to 10 ms"),
    },
  }),
  partClass(
    "supply",
    "bench supply 3 A, current limited",
    "adjustable bench supply 30 V, for tests from a limited source",
    {
      setVoltage: SET_VOLTAGE,
      sourceResistance: assumed(20e-3, "bench regulator with its leads' terminals"),
      outputCapacitance: commonPractice(1e-3, "linear supplies: 0.1 to 5 mF"),
      esr: commonPractice(50e-3, "5 to 50 mohm"),
      responseTime: commonPractice(20e-6, "10 to 200 µs"),
      "limit.style": style("constant current"),
      "limit.current": commonPractice(3, "its name"),
      "fault.ceilingVoltage": assumed(32, "a little above its largest setting of 30 V"),
      "fault.slew": computed(3 / 1e-3, "current limit over output capacitance, nothing drawn meanwhile"),
    },
  ),
];

/** Battery chargers, kind `charger`. */
export const CHARGERS: readonly PartClass[] = [
  partClass("charger", "battery charger 10 A", "charger on float, constant current up to its voltage", {
    setVoltage: commonPractice(13.8, "float voltage; 14.4 to 15.0 V while it charges an AGM battery"),
    outputCapacitance: commonPractice(2.2e-3, "switch-mode supplies: 2 to 10 mF"),
    esr: commonPractice(30e-3, "switch-mode supplies: 5 to 50 mohm"),
    responseTime: commonPractice(20e-6, "10 to 200 µs"),
    "limit.style": style("constant current"),
    "limit.current": commonPractice(10, "its name"),
    "fault.ceilingVoltage": commonPractice(20, "1.3 to 2 times nominal; 1.45 times here"),
    "fault.slew": computed(10 / 2.2e-3, "current limit over output capacitance, nothing drawn meanwhile"),
  }),
];
