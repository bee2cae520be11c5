import { wrap } from "../../report/text-wrap.ts";
import { formatQuantity, groupDigits } from "../../units/index.ts";
import { capital, counted, duration, show, times } from "../../verdict/words.ts";
import { dimensionOf, extremeText, lengthText, measuredText, momentText } from "./measured.ts";
import type {
  CaptureJudgement,
  ChannelJudgement,
  FlatTop,
  Measured,
  Ringing,
  Slope,
  TimeBeyond,
  Trips,
} from "./types.ts";

/** Said wherever a capture is judged. */
const CAUTION =
  "± holds what the file itself shows, at about 95 %: sample interval, steps, noise. What the instrument and its probe may be off by in gain, offset and bandwidth is not in the file and comes on top. A top that is flat may be where the instrument's range ended, and what swings faster than half the sample rate looks slower than it is.";

/** Whoever has seen a capture takes the next one. */
const BEFORE_THE_NEXT =
  "Before you connect an instrument: its ground clip is a short circuit to whatever it touches, and behind a crowbar hundreds of amperes wait for one. Probe ground on the line's negative, nowhere else. Capacitors stay charged after switching off, and a battery cannot be switched off. Local codes and licensed practice come first.";

/**
 * The judgement as text.
 *
 * @param width characters a line
 */
export function renderJudgement(judgement: CaptureJudgement, width: number): string {
  const { rows, duration: length, interval, longestStep, channels } = judgement;
  const uneven = longestStep > 1.5 * interval ? `; the longest step is ${duration(longestStep)}` : "";
  const lines = [
    wrap(
      `${groupDigits(String(rows))} samples over ${duration(length)}, one every ${duration(interval)}${uneven}.`,
      width,
    ),
  ];
  for (const channel of channels) {
    lines.push("", `${channel.name}`);
    for (const sentence of channelSentences(channel)) lines.push(wrap(sentence, width, "  ", "    "));
  }
  return `${[...lines, "", wrap(CAUTION, width), "", wrap(BEFORE_THE_NEXT, width)].join("\n")}\n`;
}

/** What a channel shows, the answer first, a sentence each. */
export function channelSentences(channel: ChannelJudgement): readonly string[] {
  const { unit, highest, lowest, findings, beyond, trips, rise, fall, ringing, resolution, flatTop } = channel;
  const dimension = dimensionOf(unit);
  const slew = unit === "V" ? "voltage slew" : "current slew";
  const at = (time: number): string => momentText(time, channel.timing);
  const { above, below } = channel.open;
  return [
    ...findings.map(({ sentence }) => sentence),
    `Highest: ${extremeText(highest, dimension, "highest", { open: above, truth: true })} at ${at(highest.time)}. Lowest: ${extremeText(lowest, dimension, "lowest", { open: below, truth: true })} at ${at(lowest.time)}.`,
    ...aloneSentences(channel),
    ...(flatTop === null ? [] : [flatTopSentence(flatTop, at)]),
    ...beyond.map((each) => beyondSentence(each, isDoubted(channel, each.limit))),
    ...(trips === null ? [] : [tripSentence(trips, unit, at)]),
    ...(rise === null ? [] : [slopeSentence("Steepest rise", rise, slew, at)]),
    ...(fall === null ? [] : [slopeSentence("Steepest fall", fall, slew, at)]),
    ...(ringing === null ? [] : [ringingSentence(ringing, channel.interval, dimension, at)]),
    resolutionSentence(resolution, dimension),
    ...(channel.unseen > 0
      ? [`Not recorded: ${duration(channel.unseen)} in gaps; what happened there counts nowhere.`]
      : []),
  ];
}

function aloneSentences({ highest, lowest }: ChannelJudgement): string[] {
  const seen = [...(highest.alone ? ["up"] : []), ...(lowest.alone ? ["down"] : [])];
  return seen.map((way) => `A spike ${way} was seen in one sample only: how far it went is not known.`);
}

function slopeSentence(
  name: string,
  slope: Slope,
  slew: "voltage slew" | "current slew",
  at: (time: number) => string,
): string {
  const where = `over ${duration(slope.over)} from ${at(slope.time)} on`;
  return slope.atLeast
    ? `${name}: ${measuredText(slope, slew)} or steeper, ${where}; the edge may be over sooner than that.`
    : `${name}: ${measuredText(slope, slew)}, ${where}.`;
}

function ringingSentence(
  { frequency, decay, samplesPerPeriod, time, halfPeriods, swing }: Ringing,
  interval: number,
  dimension: "voltage" | "current",
  at: (time: number) => string,
): string {
  if (frequency === null || decay === null)
    return `It seems to ring from ${at(time)} on, with about ${samplesPerPeriod.toFixed(1)} samples a period: sampled too coarsely to tell frequency and decay.`;
  const stands = `${counted(halfPeriods, "half period")} stand out of the noise, the first a swing of ${show(swing, dimension)}`;
  return `It rings at ${measuredText(frequency, "frequency")} from ${at(time)} on and decays with a time constant of ${measuredText(decay, "time")}; ${stands}. That is as the samples show it: a ringing above half the sample rate, ${show(0.5 / interval, "frequency")}, would look slower than it is, and only a shorter sample interval can tell.`;
}

function flatTopSentence({ samples, time, clipped, abrupt }: FlatTop, at: (time: number) => string): string {
  const seen = `The highest value stands in ${counted(samples, "sample")} one after the other, from ${at(time)} on`;
  if (clipped)
    return `${seen}, where noise would move it: the instrument's range ended there, and how high it went is not known.`;
  return abrupt
    ? `${seen}, where the curve breaks off: the instrument's range may have ended there, or a line was held.`
    : `${seen}: such a flat top may be where the instrument's range ended, and then the peak was higher.`;
}

/** Whether values beyond a limit may have been there though none was recorded. */
function isDoubted({ findings, open }: ChannelJudgement, limit: "low" | "high"): boolean {
  return limit === "low" ? open.below : open.above || findings.some(({ severity }) => severity === "unknown");
}

function beyondSentence(beyond: TimeBeyond, doubted: boolean): string {
  const { perhaps, limit, excursion } = beyond;
  const side = limit === "high" ? "above" : "below";
  const more = [
    ...(perhaps.outOfRange > 0
      ? [`up to ${duration(perhaps.outOfRange)} more in which the instrument was out of its range`]
      : []),
    ...(perhaps.unseen > 0 ? [`up to ${duration(perhaps.unseen)} more of which nothing was recorded`] : []),
  ];
  const level = show(excursion.level, "voltage", 4);
  const seen =
    (doubted || more.length > 0) && beyond.total.value === 0 && beyond.total.plusMinus === 0
      ? `Not seen ${side} ${level}`
      : seenBeyond(beyond).replace(/\.$/, "");
  return more.length === 0 ? `${seen}.` : `${seen}; perhaps for ${more.join(" and ")}.`;
}

function seenBeyond({ limit, excursion, total, longest, times: count }: TimeBeyond): string {
  const side = limit === "high" ? "above" : "below";
  const level = show(excursion.level, "voltage", 4);
  if (total.value === 0)
    return total.plusMinus > 0
      ? `Never ${side} ${level} as written, but up to ${duration(total.plusMinus, 2)} may have been.`
      : `Never ${side} ${level}.`;
  const each = count > 1 ? `, ${times(count)}, at the longest ${lengthText(longest)} without a break` : "";
  return `${capital(side)} ${level} for ${lengthText(total)}${each}.`;
}

function tripSentence(
  { times: when, from, to, period, missed, cycling, onShare }: Trips,
  unit: "V" | "A",
  at: (time: number) => string,
): string {
  const dimension = dimensionOf(unit);
  const [way, shares, top] =
    unit === "V" ? ["fall", "60 % and 25 %", "usual level"] : ["rise", "25 % and 60 %", "highest value"];
  const rule = `a ${way} through ${show(from, dimension)} and ${show(to, dimension)}, ${shares} of the way from its lowest to its ${top}, counts as one`;
  const first = `Trips ${times(when.length)} (${rule}), first at ${at(when[0] ?? 0)}`;
  if (period === null) return `${first}.`;
  const often = `${periodText(period, missed)}${missed ? ", for rounds between two samples are not seen" : " on average"}`;
  const share = onShare === null ? "" : `, up for ${measuredText(onShare, "ratio")} of the time between them`;
  return `${first}${cycling ? ", again and again" : ""}: ${often}${share}.`;
}

function periodText(period: Measured, missed: boolean): string {
  const every = measuredText(period, "time");
  return missed ? `at most every ${every}, perhaps more often` : `every ${every}`;
}

/** How often it tripped, where there is room for a few words: `4, every 317 ms ± 2 ms`. */
export function tripsInShort({ trips }: ChannelJudgement): string {
  if (trips === null) return "none";
  const period = trips.period === null ? "" : `, ${periodText(trips.period, trips.missed)}`;
  return `${trips.times.length}${period}`;
}

/** How long it was beyond its limits, where there is room for a few words: `above 15.9 V: 21 µs ± 2 µs`; nothing is left out that may have been. */
export function beyondInShort(channel: ChannelJudgement): string {
  const { beyond } = channel;
  if (beyond.length === 0) return "–";
  const told = beyond.flatMap(({ limit, excursion, total, perhaps }) => {
    const unseen = perhaps.unseen + perhaps.outOfRange;
    const isSeen = total.value > 0 || total.plusMinus > 0;
    if (!isSeen && unseen === 0 && !isDoubted(channel, limit)) return [];
    const name = `${limit === "high" ? "above" : "below"} ${show(excursion.level, "voltage", 4)}`;
    const more = unseen > 0 ? `, perhaps for up to ${duration(unseen)} more` : "";
    return [`${isSeen ? `${name}: ${lengthText(total)}` : `not seen ${name}`}${more}`];
  });
  return told.length === 0 ? "never" : told.join("; ");
}

function resolutionSentence(
  { quantum, between, bits, noise }: ChannelJudgement["resolution"],
  dimension: "voltage" | "current",
): string {
  const few =
    between === null
      ? "no steps can be told"
      : `there are two different values only, and the ${formatQuantity(between, dimension)} between them may be a single step: that is how far a value may be off`;
  const floor = `Noise floor ${formatQuantity(noise, dimension)} (standard deviation from sample to sample)`;
  if (quantum === null || bits === null) return `${floor}; ${few}.`;
  return `Steps of ${formatQuantity(quantum, dimension)}, ${bits.toFixed(1)} bits over the range seen. ${floor}.`;
}
