import type { Scenario, SeriesSwitch } from "../../scenario/types.ts";
import { listed } from "../../units/index.ts";
import { capital, duration, show, the } from "../../verdict/words.ts";
import type { BenchSetting } from "./bench-line.ts";
import { longestHeld } from "./bench-run.ts";
import type { BenchTrip } from "./bench-trip.ts";
import { amperes, volts } from "./meter.ts";
import type { BenchCard } from "./types.ts";

/** What a step needs to know. */
interface Bench {
  readonly scenario: Scenario;
  readonly trip: BenchTrip;
  readonly setting: BenchSetting;
  readonly dummy: BenchCard["dummy"];
}

/**
 * In the order in which they are done: make the line dead, take off whatever feeds it or hangs on it, try, put back. Minus first and plus last,
 * and the other way round, is common practice, no source.
 */
export function benchSteps(bench: Bench): readonly string[] {
  const { scenario, setting, dummy } = bench;
  const { startVoltage, endVoltage, currentLimit, slew } = setting;
  const isClamp = bench.trip.kind === "clamp";
  const place = placeOf(scenario);
  return [
    makeDead(scenario),
    `Wait a minute. Try the meter on a known voltage, measure 0 V ${deadAt(scenario)}, try it again. What is left: discharge through a resistor.`,
    `Take off ${listed(namesOf(scenario.loads))}, then both wires of ${listed(namesOf(scenario.sources))}. Cover every bare end.`,
    `Bench source by itself: ${volts(startVoltage)}. Output off, short it${isClamp ? " through a meter on its 10 A range" : ""}; output on, set its limit to ${amperes(currentLimit)}; output off, take the short away.`,
    `Dummy load in the place of ${the(scenario.loads[0].name)}: ${show(dummy.resistance, "resistance")}, ${show(dummy.power, "power")} or more; it gets hot. Meters: bench source, protector's own terminals, dummy load.`,
    `Bench source in the place of ${place}: minus first, then plus. Look again: polarity, short away, no battery, no radio.`,
    `Output on. Compare with “before the trip”; off by more than ${ALIKE}${coil(scenario)}: output off, find out why.`,
    `Turn the voltage up by no more than ${volts(slew)} a second, never above ${volts(endVoltage)}. ${isClamp ? "Stop where it no longer rises and the source reaches its limit." : `Note the highest value at the protector. No trip by ${volts(endVoltage)}: failed, output off.`}`,
    ...afterTrip(bench),
    `Output off; measure 0 V at the protector. Take the bench source off, plus first, then minus, and the dummy load.`,
    putBack(scenario),
  ];
}

/** By how much readings of two usual meters differ that measure alike (common practice, no source). */
const ALIKE = "2 % or 0.02 A";

/** What the model leaves out of a relay. */
const coil = ({ seriesSwitch }: Scenario): string =>
  seriesSwitch?.kind === "relay" ? " (and what the relay's coil takes)" : "";

function makeDead({ sources, loads }: Scenario): string {
  const batteries = sources.filter(({ kind }) => kind === "battery");
  const panels = namesOf(sources.filter(({ kind }) => kind === "panel"));
  const supplies = namesOf(sources.filter(({ kind }) => kind === "supply"));
  const fused = batteries.some(({ lead }) => lead.fuse !== null);
  const parts = [
    `switch off ${listed([...namesOf(loads), ...supplies])}`,
    ...(panels.length === 0 ? [] : [`cover ${listed(panels)}`]),
    ...(batteries.length === 0
      ? []
      : [
          `take ${listed(namesOf(batteries))} off (${fused ? "fuse, minus" : "minus"}, plus) and cover the terminals: off until the last step`,
        ]),
  ];
  return capital(`${parts.join(", ")}.`);
}

/** Every node that a capacitor may keep charged. */
function deadAt({ mainFuse, seriesSwitch, loads }: Scenario): string {
  const before = mainFuse === null ? "at the protector" : "before and behind the main fuse";
  const behind = seriesSwitch === null ? "" : ", behind the series switch";
  return `${before}${behind} and at ${listed(namesOf(loads))}`;
}

function afterTrip({ scenario, trip, setting }: Bench): readonly string[] {
  const { crowbar, seriesSwitch } = scenario;
  const start = volts(setting.startVoltage);
  if (trip.kind === "clamp")
    return [
      `Compare with “while it conducts” and turn back to ${start}: no more than ${duration(longestHeld(trip.kind))} in all, it gets warm.`,
      "It must read as before. Output off at once if it draws more.",
    ];
  const compare = "At the trip let go of the knob. Compare with “after the trip”";
  if (crowbar === null && seriesSwitch?.reclose) return [`${compare}.`, reclosing(seriesSwitch.reclose, setting)];
  const reset =
    crowbar?.variant === "held" || crowbar?.variant === "latched" || (crowbar === null && seriesSwitch !== null)
      ? "reset the protector, "
      : "";
  const byItself =
    crowbar !== null && seriesSwitch?.reclose && reset === "" ? " The series switch recloses by itself." : "";
  return [
    `${compare} within ${duration(longestHeld(trip.kind))}, then output off.`,
    `After 10 s set ${start} again, ${reset}output on: it must read as before the trip.${byItself}`,
  ];
}

/** What a switch that recloses does without anybody touching it. */
function reclosing({ onVoltage, retryTime }: NonNullable<SeriesSwitch["reclose"]>, setting: BenchSetting): string {
  const below = Math.floor(10 * (onVoltage - 0.2) + 1e-9) / 10;
  const to = Math.min(setting.startVoltage, below);
  const then = to < setting.startVoltage ? `then at ${volts(setting.startVoltage)} all` : "then all";
  return `Hands off: the switch recloses by itself, without a reset. Turn back to ${volts(to)}: ${duration(retryTime)} after the voltage has fallen below ${volts(onVoltage)} it must close, ${then} must read as before.`;
}

const MEASURE = "measure voltage and polarity at the radio's plug";

/**
 * Nothing is plugged in before its plug was measured, once from the supplies and once from the batteries; panels last, whose controllers want a
 * battery that is there already. What a card tries is a threshold: it knows nothing of the fault itself.
 */
function putBack({ sources, loads }: Scenario): string {
  const batteries = sources.filter(({ kind }) => kind === "battery");
  const panels = namesOf(sources.filter(({ kind }) => kind === "panel"));
  const supplies = listed(namesOf(sources.filter(({ kind }) => kind === "supply")));
  const fused = batteries.some(({ lead }) => lead.fuse !== null);
  const parts = [
    ...(supplies === "" ? [] : [`the wires of ${supplies}; switch on, ${MEASURE}, switch off`]),
    ...(batteries.length === 0
      ? []
      : [
          `${listed(namesOf(batteries))}, plus first, then minus${fused ? ", its fuse last" : ""}; ${supplies === "" ? MEASURE : "measure there again"}`,
        ]),
    listed(namesOf(loads)),
    ...(panels.length === 0 ? [] : [`${listed(panels)}, then uncover`]),
    ...(supplies === "" ? [] : ["switch on and look"]),
  ];
  return `Only if all passed and the file's verdict is good (speed and surge are not tried here), put back: ${parts.join("; ")}. Otherwise put nothing back.`;
}

/** Not where a panel was: its lead brings a controller and a diode along. */
function placeOf({ sources }: Scenario): string {
  const [first] = ["supply", "battery", "panel"].flatMap((kind) => sources.filter((source) => source.kind === kind));
  return the(first.name);
}

const namesOf = (parts: readonly { readonly name: string }[]): readonly string[] => parts.map(({ name }) => the(name));
