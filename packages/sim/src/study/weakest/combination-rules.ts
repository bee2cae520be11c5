import { meltingCurrentAt } from "../../scenario/melting-current.ts";
import { meltingTime } from "../../scenario/parts/fuse-melting.ts";
import type { Fuse } from "../../scenario/types.ts";
import { dumpOf } from "./dump.ts";
import { type Lasting, lastingCurrent } from "./fault-current.ts";
import { type HeldOn, heldOn } from "./held-on.ts";
import type { Held } from "./place.ts";
import { surge, surgeTime } from "./surge-rules.ts";
import type { Check } from "./types.ts";

/**
 * Whether and when the lasting current melts a fuse, s; null where it never does, or where the limiter stops before.
 *
 * @param ambient °C
 */
function blownAfter(fuse: Fuse, lasting: Lasting, ambient: number): number | null {
  const minimumMeltingCurrent = meltingCurrentAt(fuse, ambient);
  const time = meltingTime({ ...fuse, minimumMeltingCurrent }, lasting.fuse);
  if (!Number.isFinite(time)) return null;
  return lasting.detectionTime !== null && time > lasting.detectionTime ? null : time;
}

/** Of one combination what decides how a fault ends in it. */
interface Coordination {
  readonly checks: readonly Check[];
  readonly meltsIn: number | null;
  /** I²t that the fuse lets through, A²s; null where it is not blown. */
  readonly letThrough: { readonly i2t: number; readonly time: number } | null;
  readonly heatSink: number | null;
}

/**
 * Fuse and SCR beside each other.
 *
 * @param voltage largest that the fault brings, V
 */
export function coordinate(
  names: { readonly fuse: string; readonly scr: string },
  line: Held,
  lasting: Lasting,
  voltage: number,
): Coordination {
  const { scenario, place, fuse } = line;
  const meltsIn = blownAfter(fuse, lasting, scenario.ambient);
  const checks: Check[] = [];
  let letThrough: Coordination["letThrough"] = null;
  if (meltsIn !== null) {
    checks.push(surge(names, line, lasting, { voltage, meltsIn }));
    letThrough = { i2t: dumpOf(scenario, place).throughFuse + lasting.fuse ** 2 * meltsIn, time: meltsIn };
  }
  checks.push(surgeTime(names, line.crowbar, lasting, meltsIn));
  const held = meltsIn === null ? heldOn(names, line, lasting) : afterwards(names, line);
  if (held !== null) checks.push(held.check);
  return { checks, meltsIn, letThrough, heatSink: held?.heatSink ?? null };
}

/** What the other sources do once an in-line fuse has taken its own source off the line; null where none keeps the SCR on. */
function afterwards(names: { readonly fuse: string; readonly scr: string }, line: Held): HeldOn | null {
  const { scenario, place, crowbar } = line;
  if (place.kind === "main") return null;
  const others = { ...scenario, sources: scenario.sources.filter((_, index) => index !== place.index) };
  const lasting = lastingCurrent(others, { kind: "main" });
  if (lasting.scr <= crowbar.holdingCurrent) return null;
  return heldOn(names, { ...line, scenario: others, fuse: null }, lasting);
}
