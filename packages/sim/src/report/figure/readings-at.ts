import { firstAfter } from "../../trace/place.ts";
import type { StateSpan, VoltageCurve, WaveformData } from "./types.ts";

/** What a reader at a pointer sees: every curve's value and every device's state at one instant. */
export interface Readings {
  /** s since the start of the run. */
  readonly time: number;
  /** s since the instant after which times are counted. */
  readonly sinceZero: number;
  /** V. */
  readonly voltages: readonly { readonly label: string; readonly role: VoltageCurve["role"]; readonly value: number }[];
  /** A. */
  readonly currents: readonly { readonly label: string; readonly value: number }[];
  /** What each device is doing, with what that means. */
  readonly states: readonly { readonly label: string; readonly tag: string; readonly tone: StateSpan["tone"] }[];
}

/**
 * Values and states at an instant; between two recorded rows on a straight line, at an event the state just after it.
 *
 * @param data as for `faultFigure`
 * @param time s since the start of the run; beyond the data's ends the values there
 * @throws RangeError when the time is no finite number
 * @example readingsAt(data, figureTimeAxis(data, options).invert(pointerX)).voltages[0].value
 */
export function readingsAt(data: WaveformData, time: number): Readings {
  if (!Number.isFinite(time)) throw new RangeError(`time is ${time}, allowed: a finite number of seconds`);
  const { left, share } = placeIn(data.time, time);
  const at = (values: Float64Array): number =>
    share === 0 ? values[left] : values[left] + share * (values[left + 1] - values[left]);
  return {
    time,
    sinceZero: time - data.faultTime,
    voltages: data.voltages.map(({ label, role, values }) => ({ label, role, value: at(values) })),
    currents: data.currents.map(({ label, values }) => ({ label, value: at(values) })),
    states: data.states.flatMap(({ label, spans }) => {
      const span = stateAt(spans, time);
      return span === null ? [] : [{ label, tag: span.tag, tone: span.tone }];
    }),
  };
}

/** The last row not after the time, and how far it lies on the way to the next. */
function placeIn(time: Float64Array, at: number): { left: number; share: number } {
  const left = Math.max(0, firstAfter(time, at) - 1);
  if (at <= time[left] || left === time.length - 1) return { left, share: 0 };
  return { left, share: (at - time[left]) / (time[left + 1] - time[left]) };
}

function stateAt(spans: readonly StateSpan[], time: number): StateSpan | null {
  return spans.findLast(({ from }) => from <= time) ?? spans[0] ?? null;
}
