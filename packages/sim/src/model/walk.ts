import { Device } from "../devices/device.ts";
import { Lead } from "../devices/lead.ts";
import { Load } from "../devices/load.ts";
import { MainFuse } from "../devices/main-fuse.ts";
import { Node } from "../devices/node.ts";
import { Regulator } from "../devices/regulator.ts";
import { Scr } from "../devices/scr.ts";
import type { Vector } from "../ode/vector.ts";

/**
 * The devices by kind, each kind with a loop of its own: calls that always meet one class are compiled into the loop, and these loops run at every
 * stage of every step. Kinds that most lines lack share the last list. Devices that do nothing at a place are left out there.
 */
export class Walk {
  readonly nodes: readonly Node[];
  private readonly leads: readonly Lead[];
  private readonly loads: readonly Load[];
  private readonly regulators: readonly Regulator[];
  private readonly scrs: readonly Scr[];
  private readonly fuses: readonly MainFuse[];
  private readonly preparing: readonly Device[];
  private readonly rating: readonly Device[];
  private readonly deriving: readonly Device[];

  constructor(devices: readonly Device[]) {
    this.nodes = devices.filter((device) => device instanceof Node);
    this.leads = devices.filter((device) => device instanceof Lead);
    this.loads = devices.filter((device) => device instanceof Load);
    this.regulators = devices.filter((device) => device instanceof Regulator);
    this.scrs = devices.filter((device) => device instanceof Scr);
    this.fuses = devices.filter((device) => device instanceof MainFuse);
    const kinds = new Set<Device>([this.nodes, this.leads, this.loads, this.regulators, this.scrs, this.fuses].flat());
    const others = devices.filter((device) => !kinds.has(device));
    this.preparing = others.filter((device) => device.prepare !== Device.prototype.prepare);
    this.rating = others.filter((device) => device.rates !== Device.prototype.rates);
    this.deriving = others.filter((device) => device.jacobian !== Device.prototype.jacobian);
  }

  /** Every device stamps what it draws from its nodes; nodes first, for they clear what was there. */
  prepare(t: number, y: Vector): void {
    const { nodes, leads, loads, regulators, scrs, fuses, preparing } = this;
    for (let k = 0; k < nodes.length; k++) nodes[k].prepare(t, y);
    for (let k = 0; k < leads.length; k++) leads[k].prepare(t, y);
    for (let k = 0; k < loads.length; k++) loads[k].prepare(t, y);
    for (let k = 0; k < preparing.length; k++) preparing[k].prepare(t, y);
    for (let k = 0; k < regulators.length; k++) regulators[k].prepare(t, y);
    for (let k = 0; k < scrs.length; k++) scrs[k].prepare(t, y);
    for (let k = 0; k < fuses.length; k++) fuses[k].prepare(t, y);
  }

  rates(t: number, y: Vector, out: Vector): void {
    const { nodes, leads, regulators, scrs, fuses, rating } = this;
    for (let k = 0; k < nodes.length; k++) nodes[k].rates(t, y, out);
    for (let k = 0; k < leads.length; k++) leads[k].rates(t, y, out);
    for (let k = 0; k < rating.length; k++) rating[k].rates(t, y, out);
    for (let k = 0; k < regulators.length; k++) regulators[k].rates(t, y, out);
    for (let k = 0; k < scrs.length; k++) scrs[k].rates(t, y, out);
    for (let k = 0; k < fuses.length; k++) fuses[k].rates(t, y, out);
  }

  jacobian(t: number, y: Vector, J: Vector): void {
    const { nodes, leads, loads, regulators, scrs, fuses, deriving } = this;
    for (let k = 0; k < nodes.length; k++) nodes[k].jacobian(t, y, J);
    for (let k = 0; k < leads.length; k++) leads[k].jacobian(t, y, J);
    for (let k = 0; k < loads.length; k++) loads[k].jacobian(t, y, J);
    for (let k = 0; k < deriving.length; k++) deriving[k].jacobian(t, y, J);
    for (let k = 0; k < regulators.length; k++) regulators[k].jacobian(t, y, J);
    for (let k = 0; k < scrs.length; k++) scrs[k].jacobian(t, y, J);
    for (let k = 0; k < fuses.length; k++) fuses[k].jacobian(t, y, J);
  }
}
