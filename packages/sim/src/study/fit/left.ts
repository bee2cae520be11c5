import { lateEdgeOf, misfitOf } from "./misfit.ts";
import type { Prepared } from "./prepare.ts";
import type { Found } from "./search.ts";

/** What is left of each channel at its places, and whether that is noise. */
export function channelsLeft({ channels, pairs }: Prepared, { own, simulated }: Pick<Found, "own" | "simulated">) {
  return channels.map((channel, c) => {
    const { name, unit, column, curve, places, widths, stepSigns, every, off } = channel;
    const time = Float64Array.from(places, (i) => curve.time[i] + own.shift + own.lags[c]);
    const captured = Float64Array.from(places, (i) => curve.values[i] - own.zeros[c]);
    const model = time.map((t, k) => simulated.lines[c].mean(t, stepSigns[k] === 0 ? 0 : widths[k]));
    const residual = captured.map((value, k) => value - model[k]);
    const late = lateEdgeOf(
      pairs.filter((pair) => pair.channel === c),
      simulated.edges[c],
      own.shift + own.lags[c],
      channel.interval,
    );
    const events = simulated.run.events.map((event) => event.time);
    const misfit = misfitOf(channel, residual, time, late, events);
    return {
      name,
      unit,
      column,
      samples: places.length,
      every,
      off,
      time,
      captured,
      simulated: model,
      residual,
      misfit,
    };
  });
}
