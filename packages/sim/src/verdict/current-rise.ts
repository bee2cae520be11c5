import type { Crowbar, NodeCapacitor } from "../scenario/types.ts";

/** The first microsecond after a firing, in which the conducting spot spreads (common practice, no source). */
const FIRST = 1e-6;

interface Branch {
  readonly inductance: number;
  readonly capacitance: number;
  readonly resistance: number;
}

/** Largest current within the first microsecond of a capacitor discharging 1 V through R and L, A: closed form of the series RLC. */
export function firstMicrosecondPeak({ inductance: L, capacitance: C, resistance: R }: Branch): number {
  const alpha = R / (2 * L);
  const square = 1 / (L * C) - alpha * alpha;
  if (square > 1e-6 * alpha * alpha) {
    const omega = Math.sqrt(square);
    const time = Math.min(FIRST, Math.atan2(omega, alpha) / omega);
    return (Math.exp(-alpha * time) * Math.sin(omega * time)) / (omega * L);
  }
  const beta = Math.sqrt(Math.max(-square, 1e-12 * alpha * alpha));
  const time = Math.min(FIRST, Math.atanh(Math.min(beta / alpha, 1 - 1e-15)) / beta);
  return (Math.exp(-alpha * time) * Math.sinh(beta * time)) / (beta * L);
}

export interface RiseRemedy {
  /** Branch inductance that meets the rating, H; null where none up to 10 µH does. */
  readonly inductance: number | null;
  /** Capacitance on the protected side that meets the rating, F; null where even 1 nF does not. */
  readonly capacitance: number | null;
}

/**
 * The branch inductance, or the smaller capacitance on the protected side, with which the first microsecond keeps to the rating (A/s).
 * The branch is taken as that node capacitor discharging through it; `found` of the run sets the drive, so that what the leads add is in it.
 */
export function riseRemedy(crowbar: Crowbar, node: NodeCapacitor, found: number, rating: number): RiseRemedy {
  const resistance = node.resistance + crowbar.slopeResistance + crowbar.stubResistance;
  const now: Branch = { inductance: crowbar.inductance, capacitance: node.capacitance, resistance };
  const allowed = (firstMicrosecondPeak(now) * rating) / found;
  return {
    inductance: crossing((inductance) => firstMicrosecondPeak({ ...now, inductance }) <= allowed, now.inductance, 1e-5),
    capacitance: crossing(
      (capacitance) => firstMicrosecondPeak({ ...now, capacitance }) <= allowed,
      now.capacitance,
      1e-9,
    ),
  };
}

/** Where between `from` (not met) and `to` a monotone condition begins to be met, by halving in the logarithm; null if not even at `to`. */
function crossing(met: (value: number) => boolean, from: number, to: number): number | null {
  if (!met(to)) return null;
  let [out, inside] = [Math.log(from), Math.log(to)];
  for (let step = 0; step < 40; step++) {
    const middle = (out + inside) / 2;
    if (met(Math.exp(middle))) inside = middle;
    else out = middle;
  }
  return Math.exp(inside);
}
