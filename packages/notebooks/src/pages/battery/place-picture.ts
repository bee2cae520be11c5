import { figureData, type StateRow, type WaveformData } from "@railfault/sim/figures";
import type { Answer } from "../../run/protocol.ts";
import type { PlaceFacts } from "./place-facts.ts";

/**
 * Currents of battery and SCR with the states that matter, counted from the trip. Where the copper of the battery's lead melts the curves
 * end: what the model tells of later is of a line that is no more.
 */
export function pathData({ run, verdict }: Answer, facts: PlaceFacts | null, title: string): WaveformData | null {
  if (facts === null || facts.trip === null) return null;
  const { trip } = facts;
  const data = figureData(run, verdict);
  const battery = run.scenario.sources.find(({ kind }) => kind === "battery")?.name ?? "";
  const names = ["SCR", `${battery} lead`];
  const time = data.time.map((each) => each - trip);
  const melts = facts.wire.copperMelts;
  const told = melts === null ? time.length : Math.max(2, rowsUntil(time, melts));
  return {
    ...data,
    title,
    zero: "trip",
    faultTime: 0,
    time: time.subarray(0, told),
    voltages: data.voltages.map((curve) => ({ ...curve, values: curve.values.subarray(0, told) })),
    currents: data.currents
      .filter(({ label }) => names.includes(label))
      .map(({ label, values }) => ({ label, values: values.subarray(0, told) })),
    states: [
      ...data.states
        .filter(({ label }) => label === "SCR" || label.endsWith("fuse"))
        .map(({ label, spans }) => ({
          label,
          spans: spans.map((span) => ({ ...span, from: span.from - trip, to: span.to - trip })),
        })),
      wireRow(facts.wire, time[0], time[time.length - 1]),
    ],
    events: data.events
      .map((event) => ({ ...event, time: event.time - trip }))
      .filter(({ time: at }) => at <= time[told - 1]),
    restsUntil: melts !== null || data.restsUntil == null ? null : data.restsUntil - trip,
  };
}

function rowsUntil(time: Float64Array, end: number): number {
  const after = time.findIndex((each) => each > end);
  return after < 0 ? time.length : after;
}

/** What becomes of the battery's lead, from the first instant of the run to its last. */
function wireRow({ pastInsulation, copperMelts }: PlaceFacts["wire"], from: number, to: number): StateRow {
  const hot = pastInsulation ?? to;
  const molten = copperMelts ?? to;
  const spans = [
    { from, to: hot, tag: "holds", tone: "idle" },
    { from: hot, to: molten, tag: "burns", tone: "alarm" },
    { from: molten, to, tag: "melted", tone: "off" },
  ] as const;
  return { label: "wire", spans: spans.filter((span) => span.to > span.from) };
}
