/** A curve of straight lines that can be asked for its value and its mean around an instant; times never fall. */
export class LineCurve {
  private readonly sums: Float64Array;
  private place = 0;

  constructor(
    readonly time: Float64Array,
    readonly values: Float64Array,
  ) {
    this.sums = new Float64Array(time.length);
    for (let i = 1; i < time.length; i++)
      this.sums[i] = this.sums[i - 1] + 0.5 * (values[i] + values[i - 1]) * (time[i] - time[i - 1]);
  }

  /** Before its beginning and after its end a curve stays what it was there. At a step: what it is after it. */
  at(t: number): number {
    const { time, values } = this;
    const last = time.length - 1;
    if (t <= time[0]) return values[0];
    if (t >= time[last]) return values[last];
    const i = this.find(t);
    return values[i] + ((t - time[i]) / (time[i + 1] - time[i])) * (values[i + 1] - values[i]);
  }

  /** At a step: what it is before it. */
  before(t: number): number {
    const { time, values } = this;
    let [low, high] = [0, time.length - 1];
    if (t <= time[0]) return values[0];
    if (t > time[high]) return values[high];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (time[middle] < t) low = middle;
      else high = middle;
    }
    return values[low] + ((t - time[low]) / (time[high] - time[low])) * (values[high] - values[low]);
  }

  /** Mean over `width` around `t`. */
  mean(t: number, width: number): number {
    if (!(width > 0)) return this.at(t);
    return (this.until(t + width / 2) - this.until(t - width / 2)) / width;
  }

  private until(t: number): number {
    const { time, values, sums } = this;
    const last = time.length - 1;
    if (t <= time[0]) return (t - time[0]) * values[0];
    if (t >= time[last]) return sums[last] + (t - time[last]) * values[last];
    const i = this.find(t);
    return sums[i] + 0.5 * (values[i] + this.at(t)) * (t - time[i]);
  }

  /** The last row that is not after `t`, so that the next one is; looked for from where the last one was. */
  private find(t: number): number {
    const { time } = this;
    let i = this.place;
    if (time[i] > t || (time[i + 8] ?? Infinity) <= t) {
      let [low, high] = [0, time.length - 1];
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (time[middle] <= t) low = middle;
        else high = middle;
      }
      i = low;
    }
    while (i + 2 < time.length && time[i + 1] <= t) i++;
    this.place = i;
    return i;
  }
}
