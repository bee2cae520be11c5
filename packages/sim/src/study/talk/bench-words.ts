import type { Run } from "../../model/result.ts";
import type { Scenario } from "../../scenario/types.ts";
import { show, the } from "../../verdict/words.ts";
import type { BenchSetting } from "./bench-line.ts";
import type { BenchTrip } from "./bench-trip.ts";
import type { BenchCard, BenchCheck, BenchReading } from "./types.ts";

/** In the order in which they are done. Connecting minus first, and the rest of the order, is common practice, no source. */
export function benchSteps(
  { sources, crowbar, seriesSwitch }: Scenario,
  { kind }: BenchTrip,
  { startVoltage, endVoltage, currentLimit, slew }: BenchSetting,
  dummy: BenchCard["dummy"],
): readonly string[] {
  const batteries = sources.filter((source) => source.kind === "battery").map(({ name }) => the(name));
  const reset =
    crowbar?.variant === "held" ||
    crowbar?.variant === "latched" ||
    (crowbar === null && seriesSwitch?.reclose === null)
      ? "reset the protector, "
      : "";
  const takenOff = batteries.length === 0 ? "" : ` take ${batteries.join(" and ")} off and cover the terminals,`;
  return [
    `Switch every source of the line off,${takenOff} wait, and measure 0 V on both sides of the protector.`,
    `Take the radio off. Put the dummy load in its place: ${show(dummy.resistance, "resistance")}, ${show(dummy.power, "power")} or more; it gets hot.`,
    `Set the bench source to ${volts(startVoltage)}; short its terminals and set its current limit to ${amperes(currentLimit)}. Output off.`,
    "Connect it in the place of the supply: minus first, then plus. Check both once more.",
    "Put meters at the source, at the protector's own terminals and at the dummy load.",
    "Output on. Compare with “before the trip”.",
    `Turn the voltage up by no more than ${volts(slew)} a second, never above ${volts(endVoltage)}. ${kind === "clamp" ? "Stop where the current begins to rise, and stay there for seconds only." : "Note the highest value at the protector."}`,
    kind === "clamp"
      ? "Compare with “after the trip”, then turn back at once."
      : "At the trip let go of the knob. Compare with “after the trip”.",
    `Output off for 10 s. Set ${volts(startVoltage)} again, ${reset}output on: it must read as before the trip.`,
    "Write down date, temperature and trip voltage. Output off; plus off first, then minus.",
  ];
}

/** What to look at, with its limits. */
export function benchChecks(
  { crowbar, seriesSwitch, loads }: Scenario,
  trip: BenchTrip,
  setting: BenchSetting,
  [before, at, after]: readonly BenchReading[],
): readonly BenchCheck[] {
  const drop = Math.max(0.1, tenth(2 * (before.supply - before.radio)));
  const most = Math.min(...loads.map(({ limits }) => limits.maximum));
  const wiring: BenchCheck = {
    what: "Drop from source to dummy load, before the trip",
    pass: `at most ${volts(drop)}`,
    fail: "more: a bad contact or too thin a wire",
    basis: "common practice, no source",
  };
  const range = at.protectorRange;
  const level: BenchCheck = {
    what: trip.kind === "clamp" ? "Voltage at which it begins to take current" : "Trip voltage, at the protector",
    pass:
      range === null
        ? `about ${volts(at.protector)}; the file gives no tolerance`
        : `${volts(range[0])} to ${volts(range[1])}`,
    fail: `below: it trips in normal service; above, or not at all by ${volts(setting.endVoltage)}: the radio is not protected (its window ends at ${volts(most)})`,
    basis: trip.basis,
  };
  return [wiring, level, ...afterwards()];

  function afterwards(): readonly BenchCheck[] {
    if (crowbar !== null) {
      const low = Math.max(1, Math.ceil(4 * after.protector) / 2);
      return [
        {
          what: "At the protector after the trip, source at its limit",
          pass: `below ${volts(low)}, and it stays there`,
          fail: "it comes back by itself: the SCR did not stay on, or the source's limit is too low",
          basis: "common practice, no source",
        },
        ...(seriesSwitch === null || crowbar.variant !== "latched" ? [] : [cutOff()]),
      ];
    }
    return trip.kind === "clamp" ? [] : [cutOff()];
  }

  function cutOff(): BenchCheck {
    return {
      what: "At the dummy load after the trip",
      pass: `below ${volts(Math.max(0.5, tenth(2 * after.radio)))}`,
      fail: "more: the series switch leaks or did not open",
      basis: "common practice, no source",
    };
  }
}

/** How hard the test was for the parts in the simulation. */
export function strainOf(run: Run): readonly string[] {
  const { crowbar, clamp, fuses, scenario } = run;
  const melted = fuses.filter(({ state }) => state !== "intact");
  return [
    ...(crowbar === null
      ? []
      : [
          `In the simulated test the SCR's junction reached ${show(crowbar.peakTemperature.value, "temperature")} at most (ambient ${show(scenario.ambient, "temperature")}).`,
          ...(crowbar.conductingAtEnd ? [] : ["It did not stay on until the end: expect the voltage to come back."]),
        ]),
    ...(clamp === null || clamp.peakCurrent.value < 1e-3
      ? []
      : [
          `In the simulated test the clamp took ${show(clamp.peakCurrent.value, "current")} and grew ${show(clamp.peakRise, "number")} K warmer.`,
        ]),
    ...(fuses.length === 0
      ? []
      : [melted.length === 0 ? "No fuse melted." : "A fuse melted: this limit is too high for it."]),
  ];
}

const tenth = (value: number): number => Math.ceil(value * 10 - 1e-9) / 10;

/** As a meter shows it: two decimals, none of them lost. */
export const volts = (value: number): string => `${(Math.abs(value) < 0.005 ? 0 : value).toFixed(2)} V`;
export const amperes = (value: number): string => `${(Math.abs(value) < 0.005 ? 0 : value).toFixed(2)} A`;
