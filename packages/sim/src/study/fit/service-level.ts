import { dimensionOf } from "../../capture/judge/measured.ts";
import { show } from "../../verdict/words.ts";
import type { Channel } from "./channels.ts";
import type { LineCurve } from "./curve.ts";
import type { Scale } from "./gain.ts";

/** What a probe's factor makes of values when it is missing, or in them twice. */
const FACTORS = [
  [10, "a tenth of the run's: the factor of its probe may be missing."],
  [100, "a hundredth of the run's: the factor of its probe may be missing."],
  [0.1, "ten times the run's: the factor of its probe may be in them twice."],
  [0.01, "a hundred times the run's: the factor of its probe may be in them twice."],
] as const;
/** Share of the samples that tell the level at which a capture begins or ends, and how many at least. */
const SHARE = 0.01;
const LEAST = 5;
/** A level in service may be set otherwise than the scenario has it, by this share. */
const SET = 0.1;
/** A level has to be so many uncertainties of a value. */
const TOLD = 12;
/** Where the run is as near as this to the capture as it was read, nothing is missing. */
const NEAR = 0.3;

/**
 * Channels that in service, at their beginning or their end, stand a probe's factor away from where the run stands in service, by their names; none where the run is where all of them are as they
 * were read: behind a fired SCR a line may well stand at a tenth.
 *
 * @param lines the run's columns, one a channel
 * @param shift how the capture lies in the run, s
 */
export function serviceScales(
  channels: readonly Channel[],
  lines: readonly LineCurve[],
  shift: number,
): ReadonlyMap<string, Scale> {
  const found = new Map<string, Scale>();
  const ends = channels.map((channel, c) => endsOf(channel, lines[c], shift));
  if (ends.every((each) => each.every(({ isNear }) => isNear))) return found;
  for (const [c, { name, unit, off }] of channels.entries()) {
    const service = lines[c].at(0);
    const dimension = dimensionOf(unit);
    for (const { word, level } of ends[c]) {
      const known = FACTORS.find(([factor]) => Math.abs(factor * level - service) < SET * Math.abs(service));
      if (known === undefined || found.has(name) || Math.abs(level) < TOLD * off) continue;
      const [factor, words] = known;
      const sentence = `"${name}" ${word} at ${show(level, dimension)}, the run in service at ${show(service, dimension)}. Its values are about ${words}`;
      found.set(name, { factor, sentence });
    }
  }
  return found;
}

/** Where a channel begins and ends, and whether the run is there, too. */
function endsOf({ curve: { time, values }, off }: Channel, line: LineCurve, shift: number) {
  const many = Math.min(values.length, Math.max(LEAST, Math.round(SHARE * values.length)));
  return [["begins", 0] as const, ["ends", values.length - many] as const].map(([word, from]) => {
    const level = middle(values.slice(from, from + many));
    const there = middle(time.slice(from, from + many).map((t) => line.at(t + shift)));
    return { word, level, isNear: Math.abs(there - level) < NEAR * Math.abs(level) + TOLD * off };
  });
}

const middle = (values: Float64Array): number => values.sort()[values.length >> 1];
