import { resistorGrades, thresholdNames, usualTripValues } from "@railfault/sim";
import { choice } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { viewRange } from "../battery/view-range.ts";
import { controlGroup } from "../regulator-fails/group.ts";
import type { tripViews } from "./settings.ts";

interface WordOptions {
  readonly key: keyof typeof tripViews;
  readonly label: string;
  readonly help?: string;
  readonly usual: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly as?: "segments" | "menu";
}

/** A choice that is no part of the line; it is kept in the address. */
function viewChoice(opened: OpenedLine, { key, usual, options, ...words }: WordOptions): HTMLElement {
  const known = (): string => {
    const value = opened.view(key);
    return options.some((option) => option.value === value) ? value : usual;
  };
  const control = choice(document, { ...words, options, value: known() });
  control.addEventListener("input", () => opened.look({ [key]: control.value === usual ? "" : control.value }));
  opened.line.follow(() => {
    control.value = known();
  });
  return control;
}

const same = (names: readonly string[]) => names.map((name) => ({ value: name, label: name }));

const RAMPS = [
  { value: "own", label: "the line’s own" },
  { value: "5 V/ms", label: "5 V/ms" },
  { value: "20 V/ms", label: "20 V/ms" },
  { value: "100 V/ms", label: "100 V/ms" },
];

const FILTERS = [
  { value: "fast", label: "fast, 10 µs", seconds: 10e-6 },
  { value: "30 us", label: "30 µs", seconds: 30e-6 },
  { value: "RF-filtered", label: "RF-filtered, 100 µs", seconds: 100e-6 },
];

/** Of the threshold circuit: what it is, how good, how cold and hot it gets. */
function thresholdControls(opened: OpenedLine): readonly HTMLElement[] {
  const temperature = { dimension: "temperature", step: 5 } as const;
  return [
    viewChoice(opened, {
      key: "threshold",
      label: "What compares the voltage",
      usual: "shunt reference 1 %",
      options: same(thresholdNames),
      as: "menu",
    }),
    viewChoice(opened, {
      key: "resistors",
      label: "Grade of the resistors",
      usual: "1 %",
      options: same(resistorGrades),
      as: "segments",
    }),
    viewRange(opened, {
      ...temperature,
      key: "coldest",
      label: "Coldest",
      min: -40,
      max: 20,
      usual: () => ({ value: -20, source: "a hut in winter" }),
    }),
    viewRange(opened, {
      ...temperature,
      key: "hottest",
      label: "Hottest",
      min: 30,
      max: 85,
      usual: () => ({ value: 40, source: "a hut in summer" }),
    }),
  ];
}

/** Of normal service: how high a battery is charged, what the radio's own field adds. */
function serviceControls(opened: OpenedLine): readonly HTMLElement[] {
  const charge = (now: LineNow) => {
    const { chargeVoltage, setVoltage } = usualTripValues(now.parsed);
    if (chargeVoltage !== null) return { value: chargeVoltage, source: "what this kind of battery asks for" };
    return { value: setVoltage ?? 13.8, source: "the supply’s set voltage: nothing is raised" };
  };
  return [
    viewRange(opened, {
      key: "chargeVoltage",
      label: "Charge voltage",
      help: "Up to which the source goes in normal service, at 25 °C.",
      dimension: "voltage",
      min: 12,
      max: 16,
      step: 0.1,
      usual: charge,
    }),
    viewRange(opened, {
      key: "compensation",
      label: "More for each kelvin of cold",
      help: "Chargers of lead batteries give about 20 mV more for each kelvin below 25 °C.",
      dimension: "voltage",
      min: 0,
      max: 0.04,
      step: 0.005,
      usual: (now) => ({
        value: usualTripValues(now.parsed).compensation ?? 0,
        source: "common practice for its battery",
      }),
    }),
    viewRange(opened, {
      key: "pickup",
      label: "Radio-frequency pick-up",
      help: "What your transmitter adds at the sense input. Measure it.",
      dimension: "voltage",
      min: 0,
      max: 1,
      step: 0.05,
      usual: () => ({ value: 0.1, source: "assumed" }),
    }),
  ];
}

/** Of the answer to a fault: filter, lead, how steep. */
function responseControls(opened: OpenedLine): readonly HTMLElement[] {
  return [
    opened.choice({
      label: "Sense filter",
      options: FILTERS.map(({ value, label }) => ({ value, label, changes: [[["crowbar", "sense filter"], value]] })),
      current: ({ parsed }) => {
        const time = parsed.scenario?.crowbar?.senseTimeConstant ?? null;
        return FILTERS.find(({ seconds }) => time !== null && Math.abs(seconds / time - 1) < 1e-9)?.value ?? null;
      },
    }),
    opened.range({
      label: "Lead to the load",
      path: ["loads", 0, "lead", "length"],
      dimension: "length",
      min: 0.2,
      max: 20,
    }),
    opened.range({
      label: "Lead to the source",
      path: ["sources", 0, "lead", "length"],
      dimension: "length",
      min: 0.2,
      max: 20,
    }),
    viewChoice(opened, {
      key: "ramp",
      label: "The voltage runs away at",
      usual: "own",
      options: RAMPS,
      as: "segments",
    }),
  ];
}

/** All controls of the page, in the order in which they are asked about. */
export function tripControlGroups(opened: OpenedLine): readonly HTMLElement[] {
  return [
    controlGroup({ title: "The threshold circuit", controls: thresholdControls(opened) }),
    controlGroup({ title: "Normal service", controls: serviceControls(opened) }),
    controlGroup({ title: "The fault and the way to the load", controls: responseControls(opened) }, true),
  ];
}
