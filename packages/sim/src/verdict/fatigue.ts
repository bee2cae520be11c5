import { PULSE_WITHSTAND } from "../scenario/surge.ts";
import { groupDigits } from "../units/index.ts";
import type { PulseFatigue } from "./types.ts";
import { capital, duration, longTime, show, the } from "./words.ts";

// From the mildest pulses to the hardest.
const TABLE = PULSE_WITHSTAND.toReversed();

/** Longest pulse in which an element keeps its heat, s (common practice: melting I²t is published for up to 10 ms). */
const LONGEST_PULSE = 0.01;

/** Pause that the table asks for between pulses, s. */
const PULSE_PAUSE = 10;

/**
 * How long a fuse stands the pulses of repeated tripping, by the published pulse charts of a fuse catalogue.
 * @param fuse its name in words
 * @param pulse I²t of one cycle, A²s, and how long its current lasts, s
 * @param nominal nominal melting I²t, A²s
 * @param period from trip to trip, s
 */
export function pulseFatigue(
  fuse: string,
  pulse: { readonly i2t: number; readonly length: number },
  nominal: number,
  period: number,
): PulseFatigue {
  const share = pulse.i2t / nominal;
  const why = besideTable(share, pulse.length);
  if (why !== null) {
    const sentence = `${capital(the(fuse))}: the published pulse table says nothing of these trips, for ${why}.`;
    return { fuse, share, atLeast: null, atMost: null, insideTable: false, applies: false, sentence };
  }
  const atLeast = TABLE.find((point) => share <= point.fraction);
  const atMost = TABLE.findLast((point) => share > point.fraction);
  const insideTable = period >= PULSE_PAUSE;
  const least = atLeast?.pulses ?? null;
  const most = atMost?.pulses ?? null;
  const who = capital(the(fuse));
  const start = `${who}: each trip takes ${show(share, "ratio")} of its melting I²t, so by the published pulse table it stands`;
  const caveat = insideTable
    ? ""
    : ` The table speaks of pulses at least ${PULSE_PAUSE} s apart; these come every ${duration(period)}, so it may stand fewer.`;
  return {
    fuse,
    share,
    atLeast: least,
    atMost: most,
    insideTable,
    applies: true,
    sentence: `${start} ${stands(least, most, period)} (estimate).${caveat}`,
  };
}

/** Why the table does not speak of such pulses; null where it does. */
function besideTable(share: number, length: number): string | null {
  if (length > LONGEST_PULSE)
    return `each lasts ${duration(length)}: the table speaks of pulses so short (up to about ${duration(LONGEST_PULSE)}) that no heat flows away meanwhile`;
  return share > 1
    ? `each takes ${show(share, "ratio")} of its melting I²t and yet does not melt it: heat flows away during the pulse`
    : null;
}

function stands(least: number | null, most: number | null, period: number): string {
  if (least !== null && most !== null)
    return `between ${say(least)} and ${say(most)} trips, that is ${longTime(least * period)} to ${longTime(most * period)}`;
  if (least !== null) return `more than ${say(least)} trips, that is more than ${longTime(least * period)}`;
  return `fewer than ${say(most ?? 0)} trips, that is less than ${longTime((most ?? 0) * period)}`;
}

const say = (count: number): string => groupDigits(String(count));
