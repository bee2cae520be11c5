import type { WaveformData } from "./types.ts";

/**
 * The data with their last values held on, where the run came to rest before the end of an axis that it shares with others: a line
 * that just stops would look as if the run had been cut.
 * @param until end of the axis, s; null: nothing to hold on for
 */
export function held(data: WaveformData, until: number | null): WaveformData {
  const { time, restsUntil } = data;
  const last = time[time.length - 1];
  const end = Math.min(until ?? last, restsUntil ?? last);
  if (!(end > last)) return data;
  return {
    ...data,
    time: appended(time, end),
    voltages: data.voltages.map((curve) => ({ ...curve, values: repeated(curve.values) })),
    currents: data.currents.map((curve) => ({ ...curve, values: repeated(curve.values) })),
    states: data.states.map(({ label, spans }) => ({
      label,
      spans: spans.map((span, i) => (i === spans.length - 1 ? { ...span, to: Math.max(span.to, end) } : span)),
    })),
  };
}

function appended(values: Float64Array, value: number): Float64Array {
  const longer = new Float64Array(values.length + 1);
  longer.set(values);
  longer[values.length] = value;
  return longer;
}

function repeated(values: Float64Array): Float64Array {
  return appended(values, values[values.length - 1]);
}
