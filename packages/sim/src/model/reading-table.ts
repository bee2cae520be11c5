import type { Device } from "../devices/device.ts";
import { Lead } from "../devices/lead.ts";
import { Load } from "../devices/load.ts";
import type { MainFuse } from "../devices/main-fuse.ts";
import { Node } from "../devices/node.ts";
import { Regulator } from "../devices/regulator.ts";
import { Scr } from "../devices/scr.ts";
import type { Vector } from "../ode/vector.ts";

/** A recorded quantity or the rate of a kept integral. */
export interface Reading {
  readonly name: string;
  readonly unit: string;
}

/** Parts of one kind, and where among the readings each one's values begin. */
class Column<T> {
  readonly parts: T[] = [];
  readonly places: number[] = [];

  add(part: T, place: number): void {
    this.parts.push(part);
    this.places.push(place);
  }
}

/**
 * Everything that is read off a line at each look, which is four times a step: by kind of part, so that a look is a few plain loops. Quantities that
 * most lines lack are functions.
 */
export class ReadingTable {
  readonly probes: Reading[] = [];
  readonly flows: Reading[] = [];
  private readonly probePlaces = new Map<string, number>();
  private readonly flowPlaces = new Map<string, number>();
  private readonly voltages = new Column<Node>();
  private readonly currents = new Column<Lead>();
  private readonly rises = new Column<Lead>();
  private readonly scrs = new Column<Scr>();
  private readonly fuses = new Column<MainFuse>();
  private readonly others = new Column<() => number>();
  private readonly leadSquares = new Column<Lead>();
  private readonly scrFlows = new Column<Scr>();
  private readonly fuseSquares = new Column<MainFuse>();
  private readonly otherFlows = new Column<() => number>();
  private readonly regulators: Regulator[] = [];
  private readonly otherFeeders: Device[] = [];
  private fed = -1;
  private readonly nodeHeats = new Column<Node>();
  private readonly leadHeats = new Column<Lead>();
  private readonly loadHeats = new Column<Load>();
  private readonly scrHeats = new Column<Scr>();
  private readonly otherHeats = new Column<Device>();
  /** Where the heats are: they are sums. */
  private readonly heats: number[] = [];

  /** @param columnName what a probe is called, by its name and its unit */
  constructor(private readonly columnName: (name: string, unit: string) => string) {}

  /** @throws Error where there is none of that name */
  probeNamed(name: string): number {
    return placeOf(this.probePlaces, name);
  }

  flowNamed(name: string): number {
    return placeOf(this.flowPlaces, name);
  }

  probe(name: string, unit: string, read: () => number): void {
    this.others.add(read, this.addProbe(name, unit));
  }

  voltage(name: string, node: Node): void {
    this.voltages.add(node, this.addProbe(name, "V"));
  }

  current(name: string, lead: Lead): void {
    this.currents.add(lead, this.addProbe(name, "A"));
  }

  rise(name: string, lead: Lead): void {
    this.rises.add(lead, this.addProbe(name, "K"));
  }

  /** Current, junction temperature, sensed voltage and rate of rise; the current's square and the junction's power. */
  scr(name: string, scr: Scr): void {
    this.scrs.add(scr, this.addProbe(name, "A"));
    this.addProbe(`${name} junction`, "degC");
    this.addProbe(`${name} sense`, "V");
    this.addProbe(`${name} rise`, "A_per_s");
    this.scrFlows.add(scr, this.addFlow(name, "A²"));
    this.addFlow(`${name} junction`, "W");
  }

  /** Current, melt share and voltage; the current's square. */
  fuse(name: string, fuse: MainFuse): void {
    this.fuses.add(fuse, this.addProbe(name, "A"));
    this.addProbe(`${name} melt`, "share");
    this.addProbe(name, "V");
    this.fuseSquares.add(fuse, this.addFlow(name, "A²"));
  }

  flow(name: string, unit: string, read: () => number): void {
    this.otherFlows.add(read, this.addFlow(name, unit));
  }

  squaredCurrent(name: string, lead: Lead): void {
    this.leadSquares.add(lead, this.addFlow(name, "A²"));
  }

  /** Power fed by all these, and that fed or taken by them. */
  feeds(fed: string, turnedOver: string, feeders: readonly Device[]): void {
    this.fed = this.addFlow(fed, "W");
    this.addFlow(turnedOver, "W");
    for (const feeder of feeders) {
      if (feeder instanceof Regulator) this.regulators.push(feeder);
      else this.otherFeeders.push(feeder);
    }
  }

  /** Power that these parts turn into heat together. */
  heat(name: string, parts: readonly Device[]): void {
    const place = this.addFlow(name, "W");
    this.heats.push(place);
    for (const part of parts) {
      if (part instanceof Node) this.nodeHeats.add(part, place);
      else if (part instanceof Lead) this.leadHeats.add(part, place);
      else if (part instanceof Load) this.loadHeats.add(part, place);
      else if (part instanceof Scr) this.scrHeats.add(part, place);
      else this.otherHeats.add(part, place);
    }
  }

  /** Writes all probes; the line must be observed. */
  readProbes(out: Vector): void {
    const { voltages, currents, rises, scrs, fuses, others } = this;
    for (let k = 0; k < voltages.parts.length; k++) out[voltages.places[k]] = voltages.parts[k].voltage;
    for (let k = 0; k < currents.parts.length; k++) out[currents.places[k]] = currents.parts[k].current;
    for (let k = 0; k < rises.parts.length; k++) out[rises.places[k]] = rises.parts[k].rise;
    for (let k = 0; k < scrs.parts.length; k++) {
      const scr = scrs.parts[k];
      const place = scrs.places[k];
      out[place] = scr.current;
      out[place + 1] = scr.ladder.temperature;
      out[place + 2] = scr.sensed;
      out[place + 3] = scr.rise;
    }
    for (let k = 0; k < fuses.parts.length; k++) {
      const fuse = fuses.parts[k];
      const place = fuses.places[k];
      out[place] = fuse.current;
      out[place + 1] = fuse.element.theta;
      out[place + 2] = Math.abs(fuse.from.voltage - fuse.to.voltage);
    }
    for (let k = 0; k < others.parts.length; k++) out[others.places[k]] = others.parts[k]();
  }

  /** Writes all flows; the line must be observed. */
  readFlows(out: Vector): void {
    const { leadSquares, scrFlows, fuseSquares, otherFlows } = this;
    for (let k = 0; k < leadSquares.parts.length; k++) {
      const { current } = leadSquares.parts[k];
      out[leadSquares.places[k]] = current * current;
    }
    for (let k = 0; k < scrFlows.parts.length; k++) {
      const scr = scrFlows.parts[k];
      const { current } = scr;
      out[scrFlows.places[k]] = current * current;
      out[scrFlows.places[k] + 1] = scr.junctionPower;
    }
    for (let k = 0; k < fuseSquares.parts.length; k++) {
      const { current } = fuseSquares.parts[k];
      out[fuseSquares.places[k]] = current * current;
    }
    for (let k = 0; k < otherFlows.parts.length; k++) out[otherFlows.places[k]] = otherFlows.parts[k]();
    this.readFeeds(out);
    this.readHeats(out);
  }

  private readFeeds(out: Vector): void {
    const { regulators, otherFeeders, fed } = this;
    let sum = 0;
    let turnedOver = 0;
    for (let k = 0; k < regulators.length; k++) {
      const power = regulators[k].fed();
      sum += power;
      turnedOver += Math.abs(power);
    }
    for (let k = 0; k < otherFeeders.length; k++) {
      const power = otherFeeders[k].fed();
      sum += power;
      turnedOver += Math.abs(power);
    }
    out[fed] = sum;
    out[fed + 1] = turnedOver;
  }

  private readHeats(out: Vector): void {
    const { heats, nodeHeats, leadHeats, loadHeats, scrHeats, otherHeats } = this;
    for (let k = 0; k < heats.length; k++) out[heats[k]] = 0;
    for (let k = 0; k < nodeHeats.parts.length; k++) out[nodeHeats.places[k]] += nodeHeats.parts[k].dissipation();
    for (let k = 0; k < leadHeats.parts.length; k++) out[leadHeats.places[k]] += leadHeats.parts[k].dissipation();
    for (let k = 0; k < loadHeats.parts.length; k++) out[loadHeats.places[k]] += loadHeats.parts[k].dissipation();
    for (let k = 0; k < scrHeats.parts.length; k++) out[scrHeats.places[k]] += scrHeats.parts[k].dissipation();
    for (let k = 0; k < otherHeats.parts.length; k++) out[otherHeats.places[k]] += otherHeats.parts[k].dissipation();
  }

  private addProbe(name: string, unit: string): number {
    return add(this.probes, this.probePlaces, this.columnName(name, unit), unit);
  }

  private addFlow(name: string, unit: string): number {
    return add(this.flows, this.flowPlaces, name, unit);
  }
}

/** @throws Error where two readings have one name */
function add(list: Reading[], places: Map<string, number>, name: string, unit: string): number {
  if (places.has(name)) throw new Error(`two readings are called ${name}`);
  const place = list.push({ name, unit }) - 1;
  places.set(name, place);
  return place;
}

function placeOf(places: ReadonlyMap<string, number>, name: string): number {
  const place = places.get(name);
  if (place === undefined) throw new Error(`no reading is called ${name}`);
  return place;
}
