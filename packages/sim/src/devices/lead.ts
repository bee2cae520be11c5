import { ASLEEP, Guard, Timer } from "../hybrid/parts.ts";
import type { Vector } from "../ode/vector.ts";
import { Device, type Layout, type Pattern, SLACK, type Surroundings } from "./device.ts";
import { FuseElement, type FuseElementValues } from "./fuse-element.ts";
import type { Node } from "./node.ts";

/** Resistivity over density and specific heat of copper, K·m⁴/(A²·s). */
export const COPPER_HEATING = 5.0e-15;

export interface LeadValues {
  readonly inductance: number;
  readonly resistance: number;
  readonly copperArea: number;
  readonly thermalTimeConstant: number;
  readonly diode: { readonly forwardVoltage: number; readonly resistance: number } | null;
  readonly fuse: (FuseElementValues & { readonly arcVoltage: number; readonly extinctionCurrent: number }) | null;
  readonly contact: {
    readonly resistance: number;
    readonly arcVoltage: number;
    readonly extinctionCurrent: number;
    readonly initially: "closed" | "open";
    readonly operations: readonly { readonly time: number; readonly action: "open" | "close" }[];
  } | null;
}

/** A current's derivative to itself. */
const ITSELF = [1] as const;

type GapState = "closed" | "clearing" | "open";

/** A place in the lead that an arc may bridge: a melted fuse or an opening contact. */
interface Gap {
  state: GapState;
  direction: 1 | -1;
  readonly arcVoltage: number;
  readonly extinctionCurrent: number;
  readonly onOpen: (y: Vector) => void;
}

/**
 * A go-and-return pair: L·i' = v_from − v_to − R·i − arcs, with an optional fuse, contact and diode in series.
 * A gap opens when |i| falls below its extinction current or changes sign; the energy left in the inductance is then lost.
 */
export class Lead extends Device {
  current = 0;
  rise = 0;
  readonly element: FuseElement | null;
  readonly fuseGap: Gap;
  readonly contactGap: Gap;
  private i = -1;
  private dT = -1;
  private blocked = false;
  private slots: readonly number[] = [];
  private thetaSlots: readonly number[] = [];
  private readonly inductance: number = 0;
  private readonly inverseInductance: number = 0;
  /** Of the copper: K/(A²·s), and 1/s towards the ambient temperature. */
  private readonly heating: number = 0;
  private readonly cooling: number = 0;
  /** What follows from the modes alone: whether a current can flow, and arcs with the diode's threshold against it, V. */
  private conducting = true;
  private opposing = 0;
  /** Wire, contact and diode, ohm. */
  private readonly fixedResistance: number = 0;
  private readonly threshold: number = 0;
  /** Current that in the end warms the copper by so many K, A. */
  readonly steadyCurrent = (rise: number): number => Math.sqrt((rise * this.cooling) / this.heating);

  constructor(
    readonly name: string,
    readonly values: LeadValues,
    readonly from: Node,
    readonly to: Node,
    ids: { readonly fuse: number; readonly contact: number },
    { journal, currentBand, voltageBand }: Surroundings,
  ) {
    super();
    const { fuse, contact, diode } = values;
    this.inductance = values.inductance;
    this.inverseInductance = 1 / values.inductance;
    this.heating = COPPER_HEATING / (values.copperArea * values.copperArea);
    this.cooling = 1 / values.thermalTimeConstant;
    this.fixedResistance = values.resistance + (diode?.resistance ?? 0) + (contact?.resistance ?? 0);
    this.threshold = diode?.forwardVoltage ?? 0;
    this.element = fuse ? new FuseElement(fuse) : null;
    this.fuseGap = {
      state: "closed",
      direction: 1,
      arcVoltage: fuse?.arcVoltage ?? 0,
      extinctionCurrent: fuse?.extinctionCurrent ?? 0,
      onOpen: () => journal.log(ids.fuse, "open", "the arc can no longer be held"),
    };
    this.contactGap = {
      state: contact?.initially === "open" ? "open" : "closed",
      direction: 1,
      arcVoltage: contact?.arcVoltage ?? 0,
      extinctionCurrent: contact?.extinctionCurrent ?? 0,
      onOpen: () => journal.log(ids.contact, "contact arc ends", "the arc can no longer be held"),
    };
    if (this.element) {
      const { element, fuseGap } = this;
      const melts = new Guard(
        () => element.theta - 1,
        (y) => {
          melts.active = false;
          element.melt(y);
          if (!element.clears) return;
          journal.log(ids.fuse, "melts", "the element has reached its melting point");
          this.clear(fuseGap);
        },
      );
      melts.active = true;
      this.guards.push(melts, this.extinction(fuseGap));
    }
    if (contact) {
      this.guards.push(this.extinction(this.contactGap));
      for (const { time, action } of contact.operations) {
        const timer = new Timer(() => {
          if (action === "open" && this.contactGap.state === "closed") {
            journal.log(ids.contact, "contact opens", "opened on purpose or by accident");
            this.clear(this.contactGap);
          } else if (action === "close" && this.contactGap.state !== "closed") {
            this.contactGap.state = "closed";
            this.settleModes();
            journal.log(ids.contact, "contact closes", "closed");
          }
        });
        timer.start(time);
        this.timers.push(timer);
      }
    }
    if (diode) {
      const stops = new Guard(
        () => (this.blocked ? ASLEEP : -this.current - currentBand),
        (y) => {
          this.blocked = true;
          this.settleModes();
          this.stop(y);
        },
      );
      const starts = new Guard(
        () => (this.blocked && !this.interrupted ? this.drive - voltageBand : ASLEEP),
        () => {
          this.blocked = false;
          this.settleModes();
        },
      );
      stops.active = true;
      starts.active = true;
      this.guards.push(stops, starts);
    }
    this.settleModes();
  }

  get fuseState(): "intact" | "clearing" | "open" {
    return this.fuseGap.state === "closed" ? "intact" : this.fuseGap.state;
  }

  /** Voltage across fuse (arc included), V. */
  get fuseVoltage(): number {
    const { element, fuseGap } = this;
    if (!element) return 0;
    if (fuseGap.state === "open") return this.from.voltage - this.to.voltage;
    return (
      element.resistance * this.current + (fuseGap.state === "clearing" ? fuseGap.direction * fuseGap.arcVoltage : 0)
    );
  }

  override declare(layout: Layout): void {
    const { thermalTimeConstant: timeConstant } = this.values;
    const role = { kind: "relaxes", timeConstant, feedsBack: false } as const;
    this.dT = layout.state(`${this.name}.dT`, 1, { role, slack: SLACK.temperature });
    this.element?.declare(layout, `${this.name} fuse`);
    this.i = layout.state(`${this.name}.i`, 1, { slack: SLACK.lead });
  }

  override pattern(pattern: Pattern): void {
    const { i, dT, from, to } = this;
    this.slots = [
      pattern.slot(i, i),
      pattern.slot(i, from.unknown),
      pattern.slot(i, to.unknown),
      pattern.slot(from.unknown, i),
      pattern.slot(to.unknown, i),
      pattern.slot(dT, dT),
      pattern.slot(dT, i),
    ];
    this.element?.pattern(pattern, [i]);
    this.thetaSlots = (this.element?.states ?? []).map((state) => pattern.slot(i, state));
  }

  override guess(y: Vector): void {
    y[this.i] = 0;
    y[this.dT] = 0;
    this.element?.guess(y);
  }

  override held(): readonly number[] {
    return this.element?.held() ?? [];
  }

  override choosePiece(y: Vector): void {
    if (!this.values.diode || this.interrupted) return;
    if (this.blocked) this.blocked = !(this.drive > 0);
    else if (y[this.i] < 0) {
      this.blocked = true;
      y[this.i] = 0;
    }
    this.settleModes();
  }

  override prepare(_t: number, y: Vector): void {
    const current = y[this.i];
    this.current = current;
    this.rise = y[this.dT];
    if (this.element !== null) this.element.refresh(y);
    this.from.right -= current;
    this.to.right += current;
  }

  override rates(_t: number, y: Vector, out: Vector): void {
    const { current, element } = this;
    // Written out, for a value handed over by a function that is not compiled into this one is allocated.
    const resistance = element === null ? this.fixedResistance : this.fixedResistance + element.resistance;
    const drive = this.from.voltage - this.to.voltage - this.opposing;
    out[this.i] = this.conducting ? (drive - resistance * current) * this.inverseInductance : 0;
    out[this.dT] = this.heating * current * current - this.cooling * this.rise;
    if (element !== null) element.rates(current, y, out);
  }

  override jacobian(_t: number, _y: Vector, J: Vector): void {
    const { slots, inverseInductance, current } = this;
    J[slots[3]] -= 1;
    J[slots[4]] += 1;
    J[slots[5]] -= this.cooling;
    J[slots[6]] += 2 * this.heating * current;
    this.element?.jacobian(ITSELF, 0, J);
    if (!this.conducting) return;
    J[slots[0]] -= this.resistance * inverseInductance;
    J[slots[1]] += inverseInductance;
    J[slots[2]] -= inverseInductance;
    const slope = this.element ? this.element.resistanceSlope : 0;
    for (let m = 0; m < this.thetaSlots.length; m++) J[this.thetaSlots[m]] -= slope * current * inverseInductance;
  }

  override dissipation(): number {
    return (this.current * this.resistance + this.opposing) * this.current;
  }

  override stored(y: Vector): number {
    return 0.5 * this.inductance * y[this.i] * y[this.i];
  }

  private get interrupted(): boolean {
    return this.fuseGap.state === "open" || this.contactGap.state === "open";
  }

  private get resistance(): number {
    return this.element === null ? this.fixedResistance : this.fixedResistance + this.element.resistance;
  }

  /** To be called after every change of a mode. */
  private settleModes(): void {
    this.conducting = !this.blocked && !this.interrupted;
    this.opposing = this.threshold;
    for (const { state, direction, arcVoltage } of [this.fuseGap, this.contactGap])
      if (state === "clearing") this.opposing += direction * arcVoltage;
  }

  private get drive(): number {
    return this.from.voltage - this.to.voltage - this.opposing;
  }

  private extinction(gap: Gap): Guard {
    const guard = new Guard(
      () => (gap.state === "clearing" ? gap.extinctionCurrent - gap.direction * this.current : ASLEEP),
      (y) => {
        gap.state = "open";
        this.settleModes();
        this.stop(y);
        gap.onOpen(y);
      },
    );
    guard.active = true;
    return guard;
  }

  private clear(gap: Gap): void {
    gap.direction = this.current < 0 ? -1 : 1;
    gap.state = "clearing";
    this.settleModes();
  }

  private stop(y: Vector): void {
    this.loss += this.stored(y);
    y[this.i] = 0;
    this.current = 0;
  }
}
