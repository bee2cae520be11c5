import type { TripLine } from "./line.ts";
import { type FaultMeasured, measureFault } from "./measure.ts";
import type { Bench, Steps } from "./runs.ts";
import { faultText } from "./texts.ts";
import type { TripSettings } from "./types.ts";

/** How the protector answers the fault. */
export interface Response {
  readonly kind: "response";
  /** Highest trip voltage, V, that keeps the loads within their limits; may lie below the line's voltage. */
  readonly trip: number;
  /** The run at that trip voltage; null where the healthy line would trip there, and the figures are those of a higher one, moved down. */
  readonly verified: boolean;
  readonly measured: FaultMeasured;
  /** Without the protector. */
  readonly unprotected: FaultMeasured;
}

/** Why the line's own fault sets no upper edge: it endangers no load, or could not be run. */
export interface NoResponse {
  readonly kind: "harmless" | "not run";
  readonly why: string;
}

/** The search ends within this, on the safe side, V. */
const FINE = 2e-3;
const MOST = 14;

interface Tried {
  readonly trip: number;
  readonly measured: FaultMeasured;
}

/** Between a trip point that is safe and one that is not: where a straight line says, and every third time the middle. */
function lookNext(
  safe: Tried | null,
  unsafe: Tried | null,
  floor: number,
  guess: number | null,
  count: number,
): number {
  if (safe !== null && unsafe !== null) {
    const [a, b] = [over(safe), over(unsafe)];
    const share = count % 3 === 2 ? 0.5 : Math.min(0.95, Math.max(0.05, (-FINE / 2 - a) / (b - a)));
    return safe.trip + share * (unsafe.trip - safe.trip);
  }
  // The load's peak follows the trip point about one for one.
  const aimed = guess === null ? null : guess - FINE / 2;
  if (unsafe === null) return Math.max(aimed ?? 0, (safe?.trip ?? floor) + 0.05);
  return aimed !== null && aimed > floor && aimed < unsafe.trip ? aimed : (floor + unsafe.trip) / 2;
}

/** How far a load passed its limit, V. */
const over = ({ measured }: Tried): number => measured.peak - measured.limit;

/**
 * Finds the highest trip voltage with which no load passes its limit, by full simulation of the fault; each run tells where
 * to look next.
 */
export function* findResponse(
  bench: Bench,
  text: string,
  line: TripLine,
  settings: TripSettings,
  delay: number,
): Steps<Response | NoResponse> {
  const about = { ramp: settings.ramp, delay };
  const at = (trip: number | null) =>
    bench.measure<FaultMeasured>(
      trip === null ? "the fault without the protector" : "the fault",
      [text, trip, about],
      () => faultText(text, line, trip, about),
      (result) => measureFault(result, line, delay),
    );
  if (settings.ramp === null && line.faulty.length === 0)
    return { kind: "harmless", why: "no source of this line has a fault: only a voltage that creeps up decides" };
  const free = yield* at(null);
  if (free.kind === "none") return { kind: "not run", why: free.why };
  if (free.peak <= free.limit)
    return {
      kind: "harmless",
      why: "as long as it is run the line's own fault brings no load above its limit, also without the protector",
    };
  let safe: Tried | null = null;
  let unsafe: Tried | null = null;
  let refused = "";
  // Below it no protector can do anything: the line trips at rest.
  let floor = 0;
  let next = Math.min(...line.loads.map(({ limit }) => limit)) - 0.1;
  for (let count = 0; count < MOST; count++) {
    const measured = yield* at(next);
    if (measured.kind === "none") {
      refused = measured.why;
      floor = next;
    } else if (measured.peak <= measured.limit) safe = { trip: next, measured };
    else unsafe = { trip: next, measured };
    const last = measured.kind === "none" ? null : measured;
    if (last !== null && last.peak <= last.limit && last.limit - last.peak < FINE) break;
    const [low, high] = [safe?.trip ?? floor, unsafe?.trip ?? Number.POSITIVE_INFINITY];
    if (high - low < FINE) break;
    next = lookNext(safe, unsafe, floor, last === null ? null : next + (last.limit - last.peak), count);
  }
  if (safe !== null) return { kind: "response", ...safe, verified: true, unprotected: free };
  if (unsafe === null) return { kind: "not run", why: refused };
  // Already the lowest trip point that the line can carry is too high: how much too high still tells what would help.
  const { trip, measured } = unsafe;
  return {
    kind: "response",
    trip: trip - (measured.peak - measured.limit),
    verified: false,
    measured,
    unprotected: free,
  };
}
