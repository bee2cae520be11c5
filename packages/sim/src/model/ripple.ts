import { rootFromBelow } from "../ode/root.ts";

export interface RippleValues {
  readonly rawVoltage: number;
  readonly rawResistance: number;
  readonly capacitance: number;
  readonly mainsFrequency: number;
}

/**
 * Periodic solution of a reservoir behind a rectifier that is drained by a constant current: its voltage (V) at a zero of the sine and
 * its lowest value within the half-wave. While charging, C·v' = (V·sin(ωt) − v)/R − I has a closed form; between the pulses v falls
 * along a straight line.
 */
export function periodicReservoir(values: RippleValues, drain: number): { start: number; lowest: number } {
  let start = values.rawVoltage;
  for (let i = 0; i < 20000; i++) {
    const { end } = halfWave(values, drain, start);
    // Secant on the map that carries one zero of the sine to the next.
    const nudge = 1e-4 * values.rawVoltage;
    const slope = (halfWave(values, drain, start - nudge).end - end) / -nudge;
    const next = Math.abs(1 - slope) > 1e-6 ? start + (end - start) / (1 - slope) : end;
    if (Math.abs(next - start) < 1e-13 * values.rawVoltage)
      return { start: next, lowest: halfWave(values, drain, next).lowest };
    start = Math.min(values.rawVoltage, next);
  }
  return { start, lowest: halfWave(values, drain, start).lowest };
}

/** One half-wave from `start`: the voltage at its end and the lowest on the way. */
function halfWave(values: RippleValues, drain: number, start: number): { end: number; lowest: number } {
  const { rawVoltage, rawResistance, capacitance, mainsFrequency } = values;
  const omega = 2 * Math.PI * mainsFrequency;
  const period = 0.5 / mainsFrequency;
  const tau = rawResistance * capacitance;
  const raw = (t: number) => rawVoltage * Math.sin(omega * t);
  // Particular solution a·sin + b·cos − I·R of the charging phase.
  const a = rawVoltage / (1 + (omega * tau) ** 2);
  const b = -a * omega * tau;
  const forced = (t: number) => a * Math.sin(omega * t) + b * Math.cos(omega * t) - drain * rawResistance;
  let t = 0;
  let v = start;
  let lowest = start;
  let charging = raw(0) > start;
  for (let phase = 0; phase < 8 && t < period; phase++) {
    const [t0, v0] = [t, v];
    const at = charging
      ? (x: number) => forced(x) + (v0 - forced(t0)) * Math.exp(-(x - t0) / tau)
      : (x: number) => v0 - (drain / capacitance) * (x - t0);
    const past = (x: number) => (charging ? at(x) - raw(x) : raw(x) - at(x));
    const end = firstCrossing(past, t0, period);
    for (let k = 1; k <= 32; k++) lowest = Math.min(lowest, at(t0 + ((end - t0) * k) / 32));
    v = at(end);
    t = end;
    charging = !charging;
  }
  return { end: v, lowest };
}

/** The first time after `from` at which f gets above zero, or `to`. */
function firstCrossing(f: (x: number) => number, from: number, to: number): number {
  const pieces = 256;
  let [left, fl] = [from, Math.min(0, f(from))];
  for (let k = 1; k <= pieces; k++) {
    const right = from + ((to - from) * k) / pieces;
    const fr = f(right);
    if (fr > 0 && fl <= 0) return rootFromBelow(f, left, right, fl, fr, 1e-16 * to);
    left = right;
    fl = fr;
  }
  return to;
}
