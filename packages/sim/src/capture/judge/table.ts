import { type Cell, csvTable } from "../../report/csv.ts";
import type { CaptureJudgement, ChannelJudgement } from "./types.ts";

/** The judgement as a table after RFC 4180, a figure a row. */
export function judgementCsv({ channels }: CaptureJudgement): Generator<string> {
  const header = ["channel", "quantity", "unit", "value", "plus_minus", "time_s"];
  return csvTable(
    header,
    channels.flatMap((channel) => rowsOf(channel).map((row) => [channel.name, ...row])),
  );
}

function rowsOf(channel: ChannelJudgement): (readonly Cell[])[] {
  const { unit, highest, lowest, beyond, trips, rise, fall, ringing, resolution } = channel;
  const slope = `${unit}/s`;
  return [
    ["highest", unit, highest.value, highest.plusMinus, highest.time],
    ["lowest", unit, lowest.value, lowest.plusMinus, lowest.time],
    ...beyond.flatMap(({ limit, excursion, total, longest, perhaps }) => {
      const what = `${limit === "high" ? "above" : "below"} ${excursion.level} V`;
      return [
        [`time ${what}`, "s", total.value, total.plusMinus, null],
        [`longest ${what}`, "s", longest.value, longest.plusMinus, null],
        [`perhaps more ${what}`, "s", perhaps.unseen + perhaps.outOfRange, null, null],
      ] as const;
    }),
    ...(trips?.times.map((time, index) => [`trip ${index + 1}`, "s", time, null, time] as const) ?? []),
    ...(trips?.period ? [["period", "s", trips.period.value, trips.period.plusMinus, null] as const] : []),
    ...(trips?.onShare ? [["on share", "1", trips.onShare.value, trips.onShare.plusMinus, null] as const] : []),
    ...(rise === null ? [] : [["steepest rise", slope, rise.value, rise.plusMinus, rise.time] as const]),
    ...(fall === null ? [] : [["steepest fall", slope, fall.value, fall.plusMinus, fall.time] as const]),
    ...(ringing === null
      ? []
      : [
          ["ringing", "Hz", ringing.frequency.value, ringing.frequency.plusMinus, ringing.time] as const,
          ["decay of ringing", "s", ringing.decay.value, ringing.decay.plusMinus, ringing.time] as const,
        ]),
    ["noise", unit, resolution.noise, null, null],
    ["step", unit, resolution.quantum, null, null],
  ];
}
