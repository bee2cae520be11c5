import type { Run } from "../model/result.ts";
import type { Battery, Supply } from "../scenario/types.ts";
import { atEnd, endOf, lastCurrent } from "./look.ts";
import { lineProtectors } from "./moving.ts";
import { BACKWARDS } from "./sources.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, longTime, show, the } from "./words.ts";

/** A battery counts as being charged from this share of its capacity per hour on; below it, a float charge makes up for its losses. */
const CHARGING = 0.01;

/** A battery that is being charged, and the loads whose voltage it takes past their maximum. The last current is taken as lasting: a charger that tapers it off takes longer. */
export function chargingOn(run: Run, battery: Battery): readonly Pending[] {
  const { name, capacityAh, initialCharge } = battery;
  const charge = run.sources.find((source) => source.name === name)?.charge?.end ?? null;
  const current = -(lastCurrent(run, name) ?? 0);
  if (charge === null || current < CHARGING * capacityAh) return [];
  const says = `${capital(the(name))} is still being charged with ${show(current, "current")} when the run ends`;
  const full = Math.max(1, initialCharge);
  const at = (goal: number): string =>
    when(run.scenario, endOf(run) + (3600 * (goal - charge) * capacityAh) / current, longTime);
  const reach = reachOf(run, battery, charge);
  const overcharged = reach > full;
  const fate =
    charge >= full
      ? "It is full already and goes on being overcharged: it heats up and gasses."
      : overcharged
        ? `Estimate: at that current it is full ${at(full)}, and overcharged from there on.`
        : `Estimate: the voltage that charges it takes it to ${show(reach, "ratio")} and no farther, about ${at(reach)} or later.`;
  return [
    { subject: name, kind: "charging", sentence: `${says}. ${fate}`, passesRating: overcharged, endedBy: null },
    ...risen(run, battery, { charge, reach, at }),
  ];
}

/** A battery between what goes on and off: the last current is that of a moment, and says nothing of the next. */
export function chargingInRounds(run: Run, { name }: Battery): readonly Pending[] {
  const found = run.sources.find((source) => source.name === name);
  if (found === undefined || found.mostTaken <= BACKWARDS * found.mostGiven) return [];
  const sentence = `What charges ${the(name)} goes on and off when the run ends. What that comes to is not known: a longer run tells.`;
  return [{ subject: name, kind: "charging", sentence, passesRating: false, endedBy: null }];
}

/** Loads go up with the EMF, all drops held; a load that is above its maximum already is told otherwise. */
function risen(
  run: Run,
  battery: Battery,
  { charge, reach, at }: { readonly charge: number; readonly reach: number; readonly at: (goal: number) => string },
): readonly Pending[] {
  const emf = emfAt(battery, charge);
  return run.scenario.loads.flatMap(({ name, limits }): Pending[] => {
    const room = limits.maximum - (atEnd(run, name, "V") ?? Number.POSITIVE_INFINITY);
    if (!(room >= 0)) return [];
    const goal = chargeAt(battery, emf + room);
    if (!(goal < reach)) return [];
    const first = lineProtectors(run).find(({ now, voltage }) => now !== null && voltage > now && voltage - now < room);
    if (first !== undefined)
      return [
        {
          subject: name,
          kind: "voltage rising with charge",
          sentence: `The voltage of ${the(name)} rises as ${the(battery.name)} fills. Estimate: ${first.says}, before it passes its maximum of ${show(limits.maximum, "voltage")}.`,
          passesRating: false,
          endedBy: null,
        },
      ];
    const sentence = `The voltage of ${the(name)} rises as ${the(battery.name)} fills. Estimate: it passes its maximum of ${show(limits.maximum, "voltage")} about ${at(goal)}, unless somebody acts before.`;
    return [{ subject: name, kind: "voltage rising with charge", sentence, passesRating: true, endedBy: null }];
  });
}

/** State of charge at which the last of what charges it gives no more, as far as its sources' voltages tell. */
function reachOf(run: Run, battery: Battery, charge: number): number {
  const highest = run.scenario.sources.flatMap((source) => {
    if (source.name === battery.name || isCutOff(run, source.name)) return [];
    const drop = source.diode?.forwardVoltage ?? 0;
    // A panel whose controller works gives nothing.
    if (source.kind === "panel")
      return source.fault.kind === "shorted controller" && isStruck(run) ? [source.openCircuitVoltage - drop] : [];
    const found = run.sources.find(({ name }) => name === source.name);
    if (source.kind === "battery") return [emfAt(source, found?.charge?.end ?? source.initialCharge) - drop];
    if (found === undefined || found.stateAtEnd === "latched off") return [];
    return [ceiling(run, source, found.movement?.end ?? null) - drop];
  });
  // What pushes the current in is not known: nothing is known to end it.
  return highest.length === 0 ? Number.POSITIVE_INFINITY : Math.max(charge, chargeAt(battery, Math.max(...highest)));
}

/** Whether a source's own lead carries nothing any more when the run ends: what an arc bridges still conducts. */
function isCutOff({ scenario, events, fuses }: Run, name: string): boolean {
  const last = events.filter(({ kind, subject }) => subject.owner === name && kind.startsWith("contact")).at(-1);
  const initially = scenario.sources.find((source) => source.name === name)?.lead.contact?.initially;
  const fuse = fuses.find(({ subject }) => subject.part === "in-line fuse" && subject.owner === name);
  return fuse?.state === "open" || (last === undefined ? initially === "open" : last.kind === "contact arc ends");
}

/** The most that a supply comes to as it stands at the end of the run, V. */
function ceiling(run: Run, { fault, setVoltage, reservoir }: Supply, moving: number | null): number {
  const raw = reservoir?.rawVoltage ?? Number.POSITIVE_INFINITY;
  const held =
    !isStruck(run) || fault.kind === "none"
      ? setVoltage
      : fault.kind === "shorted pass transistor"
        ? raw
        : fault.kind === "lost feedback"
          ? fault.ceilingVoltage
          : fault.endVoltage;
  return Math.min(raw, Math.max(moving ?? held, held));
}

const isStruck = (run: Run): boolean => endOf(run) >= run.scenario.faultTime;

interface Point {
  readonly charge: number;
  readonly emf: number;
}

/** The curve of a battery's EMF, moved so that it begins where the battery does; its first and last lines go on. */
function curveOf({ emf, emfPerCharge, emfTable, initialCharge }: Battery): readonly Point[] {
  const line = [
    { charge: initialCharge, emf },
    { charge: initialCharge + 1, emf: emf + emfPerCharge },
  ];
  if (emfTable === null) return line;
  const moved = initialCharge - along(emfTable, "emf", "charge", emf);
  return emfTable.map((point) => ({ charge: point.charge + moved, emf: point.emf }));
}

const emfAt = (battery: Battery, charge: number): number => along(curveOf(battery), "charge", "emf", charge);
const chargeAt = (battery: Battery, emf: number): number => along(curveOf(battery), "emf", "charge", emf);

function along(curve: readonly Point[], from: keyof Point, to: keyof Point, value: number): number {
  let k = 0;
  while (k < curve.length - 2 && value > curve[k + 1][from]) k++;
  const [a, b] = [curve[k], curve[k + 1]];
  return a[to] + ((value - a[from]) * (b[to] - a[to])) / (b[from] - a[from]);
}
