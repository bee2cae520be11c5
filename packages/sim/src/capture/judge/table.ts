import { type Cell, csvTable } from "../../report/csv.ts";
import type { CaptureJudgement, ChannelJudgement, Measured } from "./types.ts";

/** The judgement as a table after RFC 4180, a figure a row; how far the truth may lie below and above it, empty where that is not known. */
export function judgementCsv({ channels }: CaptureJudgement): Generator<string> {
  const header = ["channel", "quantity", "unit", "value", "minus", "plus", "time_s"];
  return csvTable(
    header,
    channels.flatMap((channel) => rowsOf(channel).map((row) => [channel.name, ...row.map(known)])),
  );
}

const known = (cell: Cell): Cell => (typeof cell === "number" && !Number.isFinite(cell) ? null : cell);

function rowsOf(channel: ChannelJudgement): (readonly Cell[])[] {
  const { unit, highest, lowest, beyond, trips, rise, fall, ringing, resolution, open } = channel;
  const slopes = [
    { name: "steepest rise", slope: rise },
    { name: "steepest fall", slope: fall },
  ];
  return [
    ["highest", unit, highest.value, highest.minus, open.above ? null : highest.plus, highest.time],
    ["lowest", unit, lowest.value, open.below ? null : lowest.minus, lowest.plus, lowest.time],
    ...beyond.flatMap(({ limit, excursion, total, longest, perhaps }) => {
      const what = `${limit === "high" ? "above" : "below"} ${excursion.level} V`;
      const more = perhaps.unseen + perhaps.outOfRange;
      return [
        row(`time ${what}`, "s", total),
        row(`longest ${what}`, "s", longest),
        [`perhaps more ${what}`, "s", more, null, null, null],
      ];
    }),
    ...(trips?.times.map((time, index) => [`trip ${index + 1}`, "s", time, null, null, time]) ?? []),
    ...(trips?.period
      ? [
          [
            "period",
            "s",
            trips.period.value,
            trips.missed ? null : trips.period.plusMinus,
            trips.period.plusMinus,
            null,
          ],
        ]
      : []),
    ...(trips?.onShare ? [row("on share", "1", trips.onShare)] : []),
    ...slopes.flatMap(({ name, slope }) => {
      if (slope === null) return [];
      const { value, plusMinus, atLeast, time } = slope;
      const steeper = atLeast ? null : plusMinus;
      const [minus, plus] = value > 0 ? [plusMinus, steeper] : [steeper, plusMinus];
      return [[name, `${unit}/s`, value, minus, plus, time]];
    }),
    ...(ringing?.frequency ? [row("ringing", "Hz", ringing.frequency, ringing.time)] : []),
    ...(ringing?.decay ? [row("decay of ringing", "s", ringing.decay, ringing.time)] : []),
    ["noise", unit, resolution.noise, null, null, null],
    ["step", unit, resolution.quantum, null, null, null],
  ];
}

function row(name: string, unit: string, { value, plusMinus }: Measured, time: number | null = null): readonly Cell[] {
  return [name, unit, value, plusMinus, plusMinus, time];
}
