import { scaleLog } from "d3";

export interface LogScale {
  readonly domain: readonly [number, number];
  position(value: number): number;
  /** Powers of ten, and where there are few of them the twos and fives between. */
  readonly ticks: readonly number[];
  readonly minorTicks: readonly number[];
}

/** A logarithmic scale from a value at pixel `from` to another at pixel `to`; values beyond it land on its ends. */
export function logScale(domain: readonly [number, number], from: number, to: number): LogScale {
  const scale = scaleLog([...domain], [from, to]).clamp(true);
  const within = (value: number): boolean => value >= domain[0] * 0.999 && value <= domain[1] * 1.001;
  const first = Math.floor(Math.log10(domain[0]));
  const last = Math.ceil(Math.log10(domain[1]));
  // `Number("1e-3")` is exact where 10 ** -3 is not.
  const powers = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  const of = (digits: readonly number[]) =>
    powers.flatMap((power) => digits.map((digit) => Number(`${digit}e${power}`))).filter(within);
  const tens = of([1]);
  return {
    domain,
    position: (value) => scale(value),
    ticks: tens.length >= 4 ? tens : of([1, 2, 5]),
    minorTicks: of([2, 3, 4, 5, 6, 7, 8, 9]),
  };
}
