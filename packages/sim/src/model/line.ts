import { Device, type Layout, type Rectifier, type Surroundings } from "../devices/device.ts";
import type { Interrupter } from "../devices/interrupter.ts";
import { Load } from "../devices/load.ts";
import type { Node } from "../devices/node.ts";
import type { Guard, Timer } from "../hybrid/parts.ts";
import type { StateRole } from "../hybrid/rounds-types.ts";
import type { HybridSystem, Journal } from "../hybrid/types.ts";
import { type SparseElimination, SparsePattern } from "../ode/sparse.ts";
import { copyOf, type Vector } from "../ode/vector.ts";
import { EnergyBalance } from "./energy-balance.ts";
import { type Reading, ReadingTable } from "./reading-table.ts";
import { Walk } from "./walk.ts";

/** Passes on to the loop, which exists only after the line. */
export class JournalRelay implements Journal {
  target: Journal | null = null;

  log(source: number, code: string, cause: string): void {
    this.target?.log(source, code, cause);
  }

  suggestStep(step: number): void {
    this.target?.suggestStep(step);
  }
}

export interface LineParts {
  /** In the order of elimination: branch by branch, then what joins them; nodes among them. */
  readonly devices: readonly Device[];
  /** The nodes that join the branches, neighbours in order. */
  readonly hub: readonly Node[];
  /** `links[k]` joins hub nodes k and k + 1. */
  readonly links: readonly Interrupter[];
  readonly rectifiers: readonly Rectifier[];
  readonly timers: readonly Timer[];
  readonly surroundings: Surroundings;
}

/**
 * The assembled line as a hybrid system: a star of branches around one to three hub nodes. Node voltages are unknowns of the linear
 * systems beside the states, so each branch meets the others only through the hub; in a state they follow from one linear equation a node.
 */
export class Line implements HybridSystem {
  readonly size: number;
  readonly scales: number[];
  /** How many times the run's absolute tolerance each state may err. */
  readonly slack: readonly number[];
  readonly names: readonly string[];
  readonly roles: readonly StateRole[];
  readonly guards: readonly Guard[];
  readonly timers: readonly Timer[];
  readonly elimination: SparseElimination;
  private readonly entries: readonly { row: number; column: number }[];
  private readonly devices: readonly Device[];
  private readonly walk: Walk;
  /** Lists of those that do something at a place: most do nothing at most places. */
  private readonly timed: readonly Device[];
  private readonly shifting: readonly Device[];
  private readonly bounding: readonly Device[];
  /** Nodes outside the hub. */
  private readonly leaves: readonly Node[];
  private readonly parts: LineParts;
  readonly balance: EnergyBalance;
  private readonly storing: readonly Device[];
  /** Constant-power loads alone feed what oscillates; undefined without any, so that nobody asks. */
  readonly feeding: (() => number) | undefined;
  private table = new ReadingTable((name) => name);

  constructor(parts: LineParts) {
    this.parts = parts;
    this.devices = parts.devices;
    const names: string[] = [];
    const scales: number[] = [];
    const slacks: number[] = [];
    const roles: StateRole[] = [];
    const order: ({ state: number } | { unknown: number })[] = [];
    const assigns: ((index: number) => void)[] = [];
    const returns: StateRole = { kind: "returns" };
    const layout: Layout = {
      state: (name, scale, { slack = 1, role = returns } = {}) => {
        order.push({ state: names.length });
        scales.push(scale);
        slacks.push(slack);
        roles.push(role);
        return names.push(name) - 1;
      },
      unknown: (assign) => {
        order.push({ unknown: assigns.push(assign) - 1 });
      },
    };
    for (const device of parts.devices) device.declare(layout);
    this.size = names.length;
    assigns.forEach((assign, k) => {
      assign(this.size + k);
    });
    const total = this.size + assigns.length;
    const pattern = new SparsePattern(total);
    for (const device of parts.devices) device.pattern(pattern);
    this.elimination = pattern.compile(
      order.map((entry) => ("state" in entry ? entry.state : this.size + entry.unknown)),
      Array.from({ length: total }, (_, i) => i < this.size),
    );
    this.entries = pattern.entries;
    this.names = names;
    this.roles = roles;
    this.scales = copyOf(scales);
    this.slack = slacks;
    this.guards = parts.devices.flatMap((device) => device.guards);
    this.timers = [...parts.timers, ...parts.devices.flatMap((device) => device.timers)];
    this.walk = new Walk(parts.devices);
    this.timed = parts.devices.filter((device) => device.timeRates !== Device.prototype.timeRates);
    this.shifting = parts.devices.filter((device) => device.shift !== Device.prototype.shift);
    this.storing = parts.devices.filter((device) => device.stored !== Device.prototype.stored);
    const feeding = parts.devices.filter((d) => d instanceof Load && d.values.kind === "constant power") as Load[];
    this.feeding = feeding.length === 0 ? undefined : () => feeding.reduce((sum, load) => sum + load.feeding, 0);
    this.balance = new EnergyBalance((y) => this.stored(y), parts.surroundings.voltageBand);
    this.bounding = parts.devices.filter((device) => device.maxStep !== Device.prototype.maxStep);
    this.leaves = this.walk.nodes.filter((node) => !parts.hub.includes(node));
  }

  /** Fixes what is recorded and what is integrated. */
  read(table: ReadingTable): void {
    this.table = table;
    this.balance.read(table.flows.map(({ name }) => name));
  }

  get readings(): { readonly probes: readonly Reading[]; readonly flows: readonly Reading[] } {
    return this.table;
  }

  /** Ambient temperature, °C. */
  get ambient(): number {
    return this.parts.surroundings.ambient;
  }

  get probeCount(): number {
    return this.table.probes.length;
  }

  get flowCount(): number {
    return this.table.flows.length;
  }

  observe(t: number, y: Vector): void {
    const { leaves } = this;
    this.walk.prepare(t, y);
    for (let k = 0; k < leaves.length; k++) leaves[k].voltage = leaves[k].right / leaves[k].diagonal;
    this.solveHub();
  }

  rates(t: number, y: Vector, out: Vector): void {
    this.observe(t, y);
    this.walk.rates(t, y, out);
  }

  timeRates(t: number, y: Vector, out: Vector): void {
    for (let i = 0; i < out.length; i++) out[i] = 0;
    for (let k = 0; k < this.timed.length; k++) this.timed[k].timeRates(t, y, out);
  }

  linearize(t: number, y: Vector): void {
    const { values } = this.elimination;
    for (let s = 0; s < values.length; s++) values[s] = 0;
    this.walk.jacobian(t, y, values);
  }

  factor(shift: number): boolean {
    return this.elimination.factor(shift);
  }

  solve(b: Vector): void {
    this.elimination.solve(b);
  }

  /** The Jacobian after elimination of the node voltages, row by row; for tests. */
  entriesWithValues(): readonly { row: number; column: number; value: number }[] {
    return this.entries.map((entry, s) => ({ ...entry, value: this.elimination.values[s] }));
  }

  /** The slots of these states' rows, for `holdRows`. */
  slotsOf(states: ReadonlySet<number>): readonly number[] {
    return this.entries.flatMap(({ row }, s) => (states.has(row) ? [s] : []));
  }

  /** Makes rows of states that are held while a point is solved read x' = 0. */
  holdRows(slots: readonly number[]): void {
    const { values } = this.elimination;
    for (const slot of slots) values[slot] = 0;
  }

  /** Settles which rectifiers conduct: the one combination that agrees with the node voltages it leads to. */
  reconcile(y: Vector): void {
    const { rectifiers } = this.parts;
    if (!rectifiers.some((rectifier) => rectifier.cornered)) return;
    const cornered = rectifiers.filter((rectifier) => rectifier.cornered);
    const before = cornered.map((rectifier) => rectifier.conducting);
    const band = 2 * this.parts.surroundings.voltageBand;
    for (let combination = 0; combination < 2 ** cornered.length; combination++) {
      cornered.forEach((rectifier, k) => {
        rectifier.conducting = before[k] !== ((combination >> k) % 2 === 1);
      });
      this.observe(0, y);
      if (
        cornered.every((rectifier) => (rectifier.conducting ? rectifier.excess() >= -band : rectifier.excess() <= band))
      )
        return;
    }
    cornered.forEach((rectifier, k) => {
      rectifier.conducting = before[k];
    });
  }

  probes(out: Vector): void {
    this.table.readProbes(out);
  }

  flows(out: Vector): void {
    this.table.readFlows(out);
  }

  shift(elapsed: number): void {
    for (const device of this.shifting) device.shift(elapsed);
  }

  maxStep(): number {
    let longest = Number.POSITIVE_INFINITY;
    for (const device of this.bounding) longest = Math.min(longest, device.maxStep());
    return longest;
  }

  restless(): boolean {
    return this.devices.some((device) => device.restless());
  }

  stored(y: Vector): number {
    const { storing } = this;
    let sum = 0;
    for (let k = 0; k < storing.length; k++) sum += storing[k].stored(y);
    return sum;
  }

  /** Energy lost in jumps so far, J. */
  jumpLoss(): number {
    return this.devices.reduce((sum, device) => sum + device.loss, 0);
  }

  /** A chain of one to three nodes joined by conductances: forward elimination, then back. */
  private solveHub(): void {
    const { hub, links } = this.parts;
    for (let k = 0; k < hub.length; k++) {
      hub[k].pivot = hub[k].diagonal;
      if (k === 0) continue;
      const g = links[k - 1].conductance;
      const factor = g / hub[k - 1].pivot;
      hub[k].pivot -= factor * g;
      hub[k].right += factor * hub[k - 1].right;
    }
    for (let k = hub.length - 1; k >= 0; k--) {
      const g = k < hub.length - 1 ? links[k].conductance : 0;
      const next = k < hub.length - 1 ? hub[k + 1].voltage : 0;
      hub[k].voltage = (hub[k].right + g * next) / hub[k].pivot;
    }
  }
}
