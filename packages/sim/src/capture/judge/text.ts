import { wrap } from "../../report/text-wrap.ts";
import { formatQuantity, groupDigits } from "../../units/index.ts";
import { capital, counted, duration, show, times } from "../../verdict/words.ts";
import { dimensionOf, measuredText, momentText } from "./measured.ts";
import type { CaptureJudgement, ChannelJudgement, FlatTop, TimeBeyond, Trips } from "./types.ts";

/** Said wherever a capture is judged. */
const CAUTION =
  "± holds what the file itself shows, at about 95 %: sample interval, steps, noise. What the instrument and its probe may be off by in gain, offset and bandwidth is not in the file and comes on top. A top that is flat may be where the instrument's range ended, and what swings faster than half the sample rate looks slower than it is.";

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
  return `${[...lines, "", wrap(CAUTION, width)].join("\n")}\n`;
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
    `Highest: ${above ? "at least " : ""}${measuredText(highest, dimension)} at ${at(highest.time)}. Lowest: ${below ? "at most " : ""}${measuredText(lowest, dimension)} at ${at(lowest.time)}.`,
    ...(flatTop === null ? [] : [flatTopSentence(flatTop, at)]),
    ...beyond.map(beyondSentence),
    ...(trips === null ? [] : [tripSentence(trips, unit, at)]),
    ...(rise === null
      ? []
      : [`Steepest rise: ${measuredText(rise, slew)}, over ${duration(rise.over)} from ${at(rise.time)} on.`]),
    ...(fall === null
      ? []
      : [`Steepest fall: ${measuredText(fall, slew)}, over ${duration(fall.over)} from ${at(fall.time)} on.`]),
    ...(ringing === null
      ? []
      : [
          `It rings at ${measuredText(ringing.frequency, "frequency")} from ${at(ringing.time)} on and decays with a time constant of ${measuredText(ringing.decay, "time")}; ${counted(ringing.halfPeriods, "half period")} stand out of the noise, the first a swing of ${show(ringing.swing, dimension)}. That is as the samples show it: a ringing above half the sample rate, ${show(0.5 / channel.interval, "frequency")}, would look slower than it is, and only a shorter sample interval can tell.`,
        ]),
    resolutionSentence(resolution, dimension),
    ...(channel.unseen > 0
      ? [`Not recorded: ${duration(channel.unseen)} in gaps; what happened there counts nowhere.`]
      : []),
  ];
}

function flatTopSentence({ samples, time, clipped }: FlatTop, at: (time: number) => string): string {
  const seen = `The highest value stands in ${counted(samples, "sample")} one after the other, from ${at(time)} on`;
  return clipped
    ? `${seen}, where noise would move it: the instrument's range ended there, and how high it went is not known.`
    : `${seen}: such a flat top may be where the instrument's range ended, and then the peak was higher.`;
}

function beyondSentence(beyond: TimeBeyond): string {
  const { perhaps, limit, excursion } = beyond;
  const side = limit === "high" ? "above" : "below";
  const more = [
    ...(perhaps.outOfRange > 0
      ? [`up to ${duration(perhaps.outOfRange)} more in which the instrument was out of its range`]
      : []),
    ...(perhaps.unseen > 0 ? [`up to ${duration(perhaps.unseen)} more of which nothing was recorded`] : []),
  ];
  if (more.length === 0) return seenBeyond(beyond);
  const level = show(excursion.level, "voltage", 4);
  const seen =
    beyond.total.value === 0 && beyond.total.plusMinus === 0
      ? `Not seen ${side} ${level}`
      : seenBeyond(beyond).replace(/\.$/, "");
  return `${seen}; perhaps for ${more.join(" and ")}.`;
}

function seenBeyond({ limit, excursion, total, longest, times: count }: TimeBeyond): string {
  const side = limit === "high" ? "above" : "below";
  const level = show(excursion.level, "voltage", 4);
  if (total.value === 0)
    return total.plusMinus > 0
      ? `Never ${side} ${level} as written, but up to ${duration(total.plusMinus, 2)} may have been.`
      : `Never ${side} ${level}.`;
  const each = count > 1 ? `, ${times(count)}, at the longest ${measuredText(longest, "time")} without a break` : "";
  return `${capital(side)} ${level} for ${measuredText(total, "time")}${each}.`;
}

function tripSentence(
  { times: when, from, to, period, cycling, onShare }: Trips,
  unit: "V" | "A",
  at: (time: number) => string,
): string {
  const dimension = dimensionOf(unit);
  const way = `${unit === "V" ? "falls" : "rises"} from ${show(from, dimension)} to ${show(to, dimension)}`;
  const first = `Trips ${times(when.length)} (it ${way}), first at ${at(when[0] ?? 0)}`;
  if (period === null || onShare === null) return `${first}.`;
  const share = measuredText({ value: onShare.value, plusMinus: onShare.plusMinus }, "ratio");
  return `${first}${cycling ? ", again and again" : ""}: every ${measuredText(period, "time")} on average, up for ${share} of the time between them.`;
}

function resolutionSentence(
  { quantum, between, bits, noise }: ChannelJudgement["resolution"],
  dimension: "voltage" | "current",
): string {
  const few =
    between === null
      ? "no steps can be told"
      : `there are two different values only, and the ${formatQuantity(between, dimension)} between them may be a single step: that is how far a value may be off`;
  const floor = `Noise floor ${formatQuantity(noise, dimension)} (standard deviation in the quietest stretches)`;
  if (quantum === null || bits === null) return `${floor}; ${few}.`;
  return `Steps of ${formatQuantity(quantum, dimension)}, ${bits.toFixed(1)} bits over the range seen. ${floor}.`;
}
