import { pathText } from "../../scenario/keys.ts";
import type { Spread } from "../../scenario/spread/types.ts";
import { unitsAt } from "../pool/counter.ts";
import type { Varied } from "../pool/readings.ts";
import { cutNormalQuantile } from "./normal.ts";

/** Vectors of values of a scenario's spreads: drawn ones, one value at an end, corners. Numbers in each value's own unit. */
export class Sampling {
  /** Of the ambient temperature among the spreads; −1: it has none, and nothing drifts. */
  private readonly ambient: number;

  constructor(
    private readonly spreads: readonly Spread[],
    private readonly seed: number,
    private readonly nominalAmbient: number,
  ) {
    this.ambient = spreads.findIndex(({ path }) => pathText(path) === "ambient");
  }

  nominal(): number[] {
    return this.spreads.map(({ nominal }) => nominal);
  }

  /** The values with the furthest ends that drift can bring them to, as runs vary them. */
  varied(): Varied[] {
    return this.spreads.map(({ path, label, dimension, unit, nominal, low, high, drift }) => ({
      path,
      label,
      dimension,
      unit,
      nominal,
      low: low + Math.min(0, ...this.driftEnds(drift, -1)),
      high: high + Math.max(0, ...this.driftEnds(drift, 1)),
    }));
  }

  /** All values of one sample; they depend on seed and index alone. */
  sample(index: number): number[] {
    return this.spreads.map((_, which) => this.valueOf(index, which));
  }

  /** One value of one sample. */
  valueOf(index: number, which: number): number {
    const spread = this.spreads[which];
    const [place, slope] = unitsAt(this.seed, index, which);
    const value = between(spread, place);
    const { drift } = spread;
    if (drift === null) return value;
    const temperature = this.valueOf(index, this.ambient);
    return value + (drift.low + (drift.high - drift.low) * slope) * (temperature - drift.from);
  }

  /** One value at an end, all others nominal. */
  alone(which: number, end: "low" | "high"): number[] {
    const values = this.nominal();
    values[which] = this.ends(which, end, this.nominalAmbient);
    if (which !== this.ambient) return values;
    // The temperature takes along what drifts with it for certain; what may go either way stays.
    return values.map((value, k) => {
      const { drift } = this.spreads[k];
      const sure = drift === null || drift.low !== drift.high ? 0 : drift.low;
      return k === which || drift === null ? value : value + sure * (values[which] - drift.from);
    });
  }

  /**
   * A corner: the values named at their ends, the others nominal.
   *
   * @param which in the order of the bits of `corner`, the first the lowest; a bit that is set stands for the upper end
   */
  corner(which: readonly number[], corner: number): number[] {
    const values = this.nominal();
    const end = (bit: number): "low" | "high" => ((corner >>> bit) & 1 ? "high" : "low");
    const bit = which.indexOf(this.ambient);
    const temperature = bit < 0 ? this.nominalAmbient : this.ends(this.ambient, end(bit), this.nominalAmbient);
    which.forEach((value, k) => {
      values[value] = this.ends(value, end(k), temperature);
    });
    return values;
  }

  private ends(which: number, end: "low" | "high", temperature: number): number {
    const { low, high, drift } = this.spreads[which];
    const moved = drift === null ? [0] : [drift.low, drift.high].map((each) => each * (temperature - drift.from));
    return end === "low" ? low + Math.min(...moved) : high + Math.max(...moved);
  }

  private driftEnds(drift: Spread["drift"], sign: number): number[] {
    if (drift === null) return [];
    const ambient = this.spreads[this.ambient];
    return [ambient.low, ambient.high]
      .flatMap((temperature) => [drift.low, drift.high].map((each) => each * (temperature - drift.from)))
      .filter((each) => sign * each > 0);
  }
}

/** The value that so much of the distribution lies below. */
function between({ low, high, shape }: Spread, unit: number): number {
  if (shape === "corners") return unit < 0.5 ? low : high;
  if (shape === "uniform") return low + (high - low) * unit;
  return 0.5 * (low + high) + ((high - low) / 6) * cutNormalQuantile(unit);
}
