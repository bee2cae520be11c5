import type { Run } from "../../model/result.ts";
import { meltingCurrentAt } from "../../scenario/melting-current.ts";
import type { Scenario } from "../../scenario/types.ts";
import { holdingOf } from "../../verdict/holding.ts";
import { capital, duration, longTime, show, the } from "../../verdict/words.ts";
import type { BenchSetting } from "./bench-line.ts";
import type { BenchPass } from "./bench-pass.ts";
import type { BenchTrip } from "./bench-trip.ts";
import { amperes, volts } from "./meter.ts";
import type { BenchCheck, BenchReading } from "./types.ts";

/** How far apart two voltages must lie that a person is to tell them apart, V. */
const APART = 0.01;

/** What to look at, with its limits. */
export function benchChecks(
  { crowbar, seriesSwitch }: Scenario,
  trip: BenchTrip,
  pass: BenchPass,
  setting: BenchSetting,
  [before, at, after]: readonly BenchReading[],
): readonly BenchCheck[] {
  const wiring: BenchCheck = {
    what: "Drop to the dummy load, plus to plus and minus to minus",
    pass: `at most ${volts(Math.max(0.1, upTo(0.1, 2 * (before.supply - before.radio))))}`,
    fail: "more: a bad contact (a thin wire shows at full current only)",
    basis: "twice the simulated",
  };
  const level: BenchCheck = {
    what:
      trip.kind === "clamp" ? "Where it begins to take current, at the protector" : "Trip voltage, at the protector",
    pass: passing(trip, pass, at),
    fail: failing(trip, pass, setting),
    basis: pass.basis,
  };
  return [wiring, level, ...afterwards()];

  function afterwards(): readonly BenchCheck[] {
    if (crowbar !== null)
      return [
        {
          what: "At the protector, after the trip",
          pass: `below ${volts(Math.max(1, upTo(0.5, 2 * after.protector)))}, and it stays there`,
          fail: "it comes back by itself: the SCR did not stay on, or the source's limit is too low",
          basis: "twice the simulated",
        },
        ...(seriesSwitch === null || crowbar.variant !== "latched" ? [] : [cutOff()]),
      ];
    return trip.kind === "clamp" ? [turnedBack()] : [cutOff(), ...recloses()];
  }

  function cutOff(): BenchCheck {
    return {
      what: "At the dummy load, after the trip",
      pass: `below ${volts(Math.max(0.5, upTo(0.1, 2 * after.radio)))}`,
      fail: "more: the series switch leaks or did not open",
      basis: "twice the simulated",
    };
  }

  function recloses(): readonly BenchCheck[] {
    const reclose = seriesSwitch?.reclose ?? null;
    if (reclose === null) return [];
    return [
      {
        what: "Turned back: when it recloses",
        pass: `about ${duration(reclose.retryTime)} after the voltage fell below ${volts(reclose.onVoltage)}`,
        fail: "never, or while the voltage is still above that",
        basis: "the model",
      },
    ];
  }

  function turnedBack(): BenchCheck {
    return {
      what: "Current of the source, turned back",
      pass: `${amperes(before.supplyCurrent)}, as before`,
      fail: "more: it leaks, or was hurt; do not use it",
      basis: "the model",
    };
  }
}

function passing({ nominal }: BenchTrip, { low, high, window, holdsNominal }: BenchPass, at: BenchReading): string {
  const range =
    at.protectorRange === null
      ? `about ${volts(at.protector)}; the file gives no tolerance`
      : `${volts(at.protectorRange[0])} to ${volts(at.protectorRange[1])}`;
  if (holdsNominal) return range;
  const why =
    nominal > high
      ? `lies above ${volts(window.voltage)}, where the window of ${the(window.load)} ends: set it lower`
      : `lies below ${volts(low)}, which normal service reaches: set it higher`;
  return `${range}. As set, at ${volts(nominal)}, it cannot pass: that ${why}`;
}

/** Untrue of nothing: outside the tolerance it is not what the file says; only beyond these two voltages does it fail the line. */
function failing({ kind, low, high }: BenchTrip, { normal, window }: BenchPass, { endVoltage }: BenchSetting): string {
  const bottom = normal?.voltage ?? 0;
  const never = `not at all by ${volts(endVoltage)}`;
  const isCovered = endVoltage >= window.voltage - APART;
  const otherwise = [
    ...(low > bottom + APART || high < window.voltage - APART ? ["outside that"] : []),
    ...(isCovered ? [] : [never]),
  ];
  const isClamp = kind === "clamp";
  const unlike = isClamp ? "not the clamp of the file" : "not set as the file says";
  const hard = [
    ...(normal === null
      ? []
      : [`at ${volts(bottom)} or below (${normal.words}) it ${isClamp ? "conducts" : "trips"} in normal service`]),
    `above ${volts(window.voltage)}, the end of its window${isCovered ? `, or ${never}` : ""}, ${the(window.load)} is not protected`,
  ].join("; ");
  return otherwise.length === 0 ? hard : `${otherwise.join(", or ")}: ${unlike}, find out why. ${capital(hard)}`;
}

/** How hard the test was for the parts in the simulation. */
export function strainOf(run: Run): readonly string[] {
  const { crowbar, clamp, fuses, scenario } = run;
  const held = holdingOf(run)?.timeToLimit ?? null;
  const { mainFuse } = scenario;
  const energy = scenario.clamp?.ratings.energy ?? null;
  return [
    ...(crowbar === null
      ? []
      : [
          `In the simulated test the SCR's junction reached ${show(crowbar.peakTemperature.value, "temperature")} at most (ambient ${show(scenario.ambient, "temperature")}).`,
          ...(crowbar.conductingAtEnd ? [] : ["It did not stay on until the end: expect the voltage to come back."]),
          ...(held === null ? [] : [`Left on, it passes its limit after ${longTime(held)}: an estimate.`]),
        ]),
    ...(clamp === null || energy === null || clamp.peakCurrent.value < 1e-3
      ? []
      : [
          `In the simulated test the clamp took ${show(clamp.peakCurrent.value, "current")} and ${show(clamp.energy, "energy")} of the ${show(energy, "energy")} that it stands in all, and grew ${show(clamp.peakRise, "number")} K warmer.`,
        ]),
    ...(fuses.length === 0
      ? []
      : [
          `No fuse melted${mainFuse === null ? "" : `; the main fuse melts from ${show(meltingCurrentAt(mainFuse, scenario.ambient), "current")} on`}.`,
        ]),
  ];
}

/** Rounded up to a multiple of a step; a hair of what computers lose does not make it another one. */
const upTo = (step: number, value: number): number => Number((Math.ceil(value / step - 1e-9) * step).toFixed(9));
