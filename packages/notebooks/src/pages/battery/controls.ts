import { describeValue, findPart, partNames } from "@railfault/sim";
import type { Change } from "../../kept/state.ts";
import type { LineOption } from "../../line/controls.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { type Group, shownWhere } from "../regulator-fails/group.ts";
import { batteryOf, chargerOf, fuseClassOf, ofBattery, ofCharger, wordOf, written } from "./part-of-line.ts";

const HOUR = 3600;

/** What the charger does, and how long one watches it. */
export function chargerControls({ line, range }: OpenedLine): Group {
  /** A line whose charger does not creep has no such values. */
  const whereCreeps = (control: HTMLElement): HTMLElement =>
    shownWhere(line, control, (now) => describeValue(now.parsed, ofCharger("fault", "slew")(now)) !== null);
  return {
    title: "The charger",
    controls: [
      range({
        label: "Charger's current limit",
        path: ofCharger("limit", "current"),
        dimension: "current",
        min: 2,
        max: 40,
        step: 1,
        help: "After the trip this current holds the SCR on.",
      }),
      whereCreeps(
        range({
          label: "It creeps by",
          path: ofCharger("fault", "slew"),
          dimension: "voltage slew",
          min: 0.05 / HOUR,
          max: 10 / HOUR,
          steps: [0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1, 1.5, 2, 3, 5, 10].map((volts) => volts / HOUR),
          format: (slew) => `${Number((slew * HOUR).toPrecision(4))} V/h`,
        }),
      ),
      whereCreeps(
        range({
          label: "It ends at",
          path: ofCharger("fault", "ceiling voltage"),
          dimension: "voltage",
          min: 14.5,
          max: 20,
          step: 0.1,
          help: "Where that is below the trip point nothing ever trips, and the battery is charged on and on.",
        }),
      ),
      range({
        label: "Watched for",
        path: ["run for"],
        dimension: "time",
        min: HOUR,
        max: 48 * HOUR,
        steps: [1, 2, 3, 4, 6, 8, 12, 18, 24, 36, 48].map((hours) => hours * HOUR),
      }),
    ],
  };
}

/** Classes whose voltage rises steeply beyond full; without that curve a battery takes charge for ever. */
const OVERCHARGE = ", overcharge";

/** States of charge at the start, beside the one at which it has been floating. */
const CHARGES = [100, 95, 90, 80, 50, 20];

/** A charge below full is not at rest with the charger: the line is switched on at the start. */
const SWITCHED_ON = "{time: 0 s, ramp time: 50 ms}";

function chargeChanges(now: LineNow, percent: number | null): readonly Change[] {
  const { charge, start, switchOn } = chargePaths(now);
  if (percent !== null)
    return [
      [charge, `${percent} %`],
      [start, "dead"],
      [switchOn, SWITCHED_ON],
    ];
  return [charge, start, switchOn].filter((path) => written(now, path)).map((path) => [path, null]);
}

const chargePaths = (now: LineNow) =>
  ({
    charge: ["sources", batteryOf(now), "initial charge"],
    start: ["start"],
    switchOn: ["sources", chargerOf(now), "switch on"],
  }) as const;

/** The battery, its lead and the fuse in it. */
export function batteryControls({ range, choice }: OpenedLine): Group {
  return {
    title: "The battery",
    controls: [
      choice({
        label: "Battery",
        as: "menu",
        options: (now) =>
          partNames("battery")
            .filter((name) => name.endsWith(OVERCHARGE))
            .map((name) => ({
              value: name,
              label: name.slice(0, -OVERCHARGE.length),
              changes: [[ofBattery("part")(now), name]],
            })),
        current: (now) => wordOf(now, ofBattery("part")(now)),
        help: (now) => findPart("battery", wordOf(now, ofBattery("part")(now)) ?? "")?.about ?? "",
      }),
      choice({
        label: "State of charge at the start",
        as: "menu",
        options: [
          { value: "float", label: "floated full", changes: (now) => chargeChanges(now, null) },
          ...CHARGES.map((percent) => ({
            value: `${percent} %`,
            label: `${percent} %`,
            changes: (now: LineNow) => chargeChanges(now, percent),
          })),
        ],
        current: (now) => (written(now, chargePaths(now).charge) ? wordAsWritten(now) : "float"),
        help: "A battery that is not full takes the charger's current first and wins hours.",
      }),
      range({
        label: "Battery's lead, one way",
        path: ofBattery("lead", "length"),
        dimension: "length",
        min: 0.2,
        max: 10,
      }),
      range({
        label: "Battery's lead, cross-section",
        path: ofBattery("lead", "area"),
        dimension: "area",
        min: 1.5e-6,
        max: 35e-6,
        steps: [1.5, 2.5, 4, 6, 10, 16, 25, 35].map((squareMillimetres) => squareMillimetres * 1e-6),
      }),
      fuseControl(choice),
    ],
  };
}

function wordAsWritten(now: LineNow): string | null {
  const percent = now.parsed.scenario?.sources[batteryOf(now)];
  return percent?.kind === "battery" ? `${Number((100 * percent.initialCharge).toPrecision(4))} %` : null;
}

/** Which fuse stands in the battery's lead. */
function fuseControl(choice: OpenedLine["choice"]): HTMLElement {
  const path = ofBattery("lead", "fuse");
  const offered = (now: LineNow): readonly LineOption[] =>
    partNames("fuse").map((name) => ({
      value: name,
      label: name,
      group: findPart("fuse", name)?.about ?? "",
      changes: [[path(now), name]],
    }));
  const none = (now: LineNow): LineOption => ({
    value: "none",
    label: "none",
    changes: written(now, path(now)) ? [[path(now), null]] : [],
  });
  return choice({
    label: "Fuse in the battery's lead",
    as: "menu",
    options: (now) => [none(now), ...offered(now)],
    current: (now) => (written(now, path(now)) ? fuseClassOf(now, path(now)) : "none"),
    otherwise: "with values of its own",
  });
}

/** When the protector acts. */
export function tripControls({ range }: OpenedLine): Group {
  return {
    title: "The protector",
    controls: [
      range({
        label: "Trip voltage",
        path: ["crowbar", "trip voltage"],
        dimension: "voltage",
        min: 14.1,
        max: 17,
        step: 0.1,
      }),
    ],
  };
}
