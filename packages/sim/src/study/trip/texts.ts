import { changeTexts, type TextChange } from "../../scenario/index.ts";
import type { TripLine } from "./line.ts";

/** A value as it stands in a file: digits enough to be the same number again. */
const written = (value: number, unit: string): string => `${Number(value.toPrecision(12))} ${unit}`;

/** High above everything that a line does, so that the protector only watches. */
const NEVER = 1000;

/** Values are changed here to what no spread of the file has in it. */
const WITHOUT_SPREADS: TextChange = [["tolerances"], null];

/** Times in the runs of normal service, s. */
export const TIMES = {
  /** The radio stops transmitting, and starts again. */
  keyUp: 10e-3,
  keyDown: 40e-3,
  keyEnd: 70e-3,
  /** After everything was switched on: the first plug goes in; the next follow after `between`. */
  settle: 50e-3,
  between: 40e-3,
} as const;

/** Normal service: nothing breaks, everything at its highest voltage. */
function healthy(line: TripLine, base: number, trip: number): TextChange[] {
  const { scenario } = line;
  return [
    WITHOUT_SPREADS,
    [["fault at"], "0 s"],
    ...line.faulty.map((index): TextChange => [["sources", index, "fault"], "none"]),
    // Several supplies keep their distance.
    ...line.supplies.map(
      ({ index, setVoltage }): TextChange => [
        ["sources", index, "set voltage"],
        written(base - (highestSet(line) - setVoltage), "V"),
      ],
    ),
    ...line.batteries.flatMap((index): TextChange[] => [
      ...withoutTable(line, index),
      [["sources", index, "emf"], written(base, "V")],
    ]),
    [line.protector.tripPath, written(trip, "V")],
    ...reclosing(line, trip),
    // Another protector on the line is not asked about here.
    ...(line.protector.kind === "crowbar" && scenario.seriesSwitch !== null
      ? [[["series switch", "off voltage"], written(NEVER, "V")] as const]
      : []),
    ...scenario.sources.flatMap(({ lead }, index): TextChange[] =>
      lead.contact === null ? [] : [[["sources", index, "lead", "contact"], null]],
    ),
    ...line.loads.flatMap(({ index, hasContact }): TextChange[] =>
      hasContact ? [[["loads", index, "lead", "contact"], null]] : [],
    ),
  ];
}

const highestSet = ({ supplies }: TripLine): number => Math.max(...supplies.map(({ setVoltage }) => setVoltage));

/** A battery whose EMF follows a table cannot start anywhere else: for milliseconds a straight line does as well. */
function withoutTable({ scenario }: TripLine, index: number): TextChange[] {
  const source = scenario.sources[index];
  if (source.kind !== "battery" || source.emfTable === null) return [];
  return [
    [["sources", index, "emf table"], "none"],
    [["sources", index, "emf per charge"], written(source.emfPerCharge, "V")],
  ];
}

/** A switch that recloses must do so below its trip point. */
function reclosing({ scenario, protector }: TripLine, trip: number): TextChange[] {
  const reclose = protector.kind === "series switch" ? (scenario.seriesSwitch?.reclose ?? null) : null;
  if (reclose === null || reclose.onVoltage < trip) return [];
  return [[["series switch", "reclose", "on voltage"], written(trip - 0.1, "V")]];
}

function receiving({ loads }: TripLine): TextChange[] {
  return loads.flatMap(({ index, key, receive, hasSchedule }): TextChange[] => [
    ...(hasSchedule ? [[["loads", index, "schedule"], null] as const] : []),
    ...(key === null ? [] : [[["loads", index, key], receive] as const]),
  ]);
}

/** All radios transmit, stop, and start again. */
export function keyingText(text: string, line: TripLine, base: number, trip: number | null): string {
  const steps = line.loads.flatMap(({ index, key, receive, transmit }): TextChange[] => {
    if (key === null || transmit === null) return [];
    const entry = (time: number, value: string): string => `{time: ${written(time, "s")}, ${key}: ${value}}`;
    return [
      [["loads", index, key], transmit],
      [["loads", index, "schedule"], `[${entry(TIMES.keyUp, receive)}, ${entry(TIMES.keyDown, transmit)}]`],
    ];
  });
  return changeTexts(text, [
    ...healthy(line, base, trip ?? NEVER),
    ...receiving(line),
    ...steps,
    // Says something only where a line starts dead.
    ...line.supplies.map(({ index }): TextChange => [["sources", index, "switch on"], null]),
    [["run for"], written(TIMES.keyEnd, "s")],
    [["start"], "operating"],
  ]);
}

/** When each plug goes in, s. */
export function plugTimes({ scenario, loads }: TripLine): readonly number[] {
  const up = Math.max(
    0,
    ...scenario.sources.map((source) =>
      source.kind === "supply" ? source.switchOn.time + source.switchOn.rampTime : 0,
    ),
  );
  return loads.map((_, order) => up + TIMES.settle + order * TIMES.between);
}

/** Everything dark but the batteries; the supplies are switched on, then one plug after the other goes in. */
export function plugText(text: string, line: TripLine, base: number, trip: number | null): string {
  const times = plugTimes(line);
  const contact = (time: number): string =>
    `{resistance: 1 mohm, arc voltage: 15 V, extinction current: 0.1 A, initially: open, operations: [{time: ${written(time, "s")}, action: close}]}`;
  return changeTexts(text, [
    ...healthy(line, base, trip ?? NEVER),
    ...receiving(line),
    ...line.loads.map(({ index }, order): TextChange => [["loads", index, "lead", "contact"], contact(times[order])]),
    [["run for"], written(Math.max(...times) + TIMES.between, "s")],
    [["start"], "dead"],
  ]);
}

/** A voltage that creeps up, V/s: slow beside every filter, fast enough to be run. */
export const CREEP = 20;

/** How a fault is to be run. */
export interface FaultAbout {
  /** Of a supply that loses its feedback, V/s; null: the line's own fault. */
  readonly ramp: number | null;
  /** Of the threshold device, s. */
  readonly delay: number;
  /** Whether the run lasts until such a voltage has arrived. */
  readonly creeps?: boolean;
}

/** The line's fault on receive with another trip point and the threshold device's own delay. */
export function faultText(
  text: string,
  line: TripLine,
  trip: number | null,
  { ramp, delay, creeps = false }: FaultAbout,
): string {
  const { protector, scenario, supplies } = line;
  const at = trip ?? NEVER;
  const trips: TextChange = [protector.tripPath, written(at, "V")];
  const changes: TextChange[] = [WITHOUT_SPREADS, trips, ...reclosing(line, at), ...receiving(line)];
  if (delay > 0) changes.push([protector.delayPath, written(protector.delay + delay, "s")]);
  if (ramp !== null) {
    const [{ index }] = supplies;
    const source = scenario.sources[index];
    const set = highestSet(line);
    const ceiling =
      source.kind === "supply" && source.fault.kind === "lost feedback"
        ? source.fault.ceilingVoltage
        : Math.max(22, 1.6 * set);
    changes.push([
      ["sources", index, "fault"],
      `{kind: lost feedback, ceiling voltage: ${written(ceiling, "V")}, slew: ${written(ramp, "V/s")}}`,
    ]);
    const arrived = scenario.faultTime + (Math.max(at, ...line.loads.map(({ limit }) => limit)) + 1 - set) / ramp;
    // A battery would hold the voltage for hours.
    if (creeps) changes.push(...[...line.batteries].reverse().map((each): TextChange => [["sources", each], null]));
    if (creeps)
      changes.push([["run for"], written(Math.min(arrived, scenario.faultTime + (ceiling - set) / ramp), "s")]);
  }
  return changeTexts(text, changes);
}
