import { crossingBefore } from "../../trace/level.ts";
import type { TripLine } from "./line.ts";
import { measureKeying, measurePlugs, type NotMeasured, type ServiceMeasured, type Stretch } from "./measure.ts";
import type { Bench, Steps } from "./runs.ts";
import { keyingText, plugText } from "./texts.ts";
import type { Drops, Nuisance, TripSettings } from "./types.ts";

/** What normal service does at its highest voltage. */
export interface Service {
  readonly kind: "service";
  /** V of the highest source. */
  readonly base: number;
  /** The protector at rest while the radios receive, V. */
  readonly rest: number;
  /** While the radios receive, and behind that while they transmit. */
  readonly drops: readonly Drops[];
  /** From the protector to each load while they receive, V. */
  readonly loadDrops: readonly number[];
  readonly happenings: readonly Happening[];
  /** What could not be run. */
  readonly missing: readonly { readonly name: string; readonly why: string }[];
}

interface Happening {
  readonly name: string;
  readonly stretch: Stretch;
  readonly excess: number;
  readonly remark: string;
}

const highest = (values: Float64Array): number => values.reduce((most, each) => Math.max(most, each), -Infinity);

/**
 * Runs normal service: radios that start and stop transmitting, a supply that is switched on, plugs that go into the live line. At the highest
 * normal voltage; where the line refuses that (a supply's own shutdown), at its own.
 */
export function* findService(
  bench: Bench,
  text: string,
  line: TripLine,
  settings: TripSettings,
  base: number,
): Steps<Service | NotMeasured> {
  const own = line.setVoltage?.value ?? base;
  const keyed = yield* atBaseOrOwn(base, own, (volts) =>
    bench.measure<ServiceMeasured>(
      "radios key",
      [text, volts, settings.transmit],
      () => keyingText(text, line, volts, null),
      (result) => measureKeying(result, line),
    ),
  );
  if (keyed.measured.kind === "none") return keyed.measured;
  const plugged = yield* atBaseOrOwn(base, own, (volts) =>
    bench.measure<ServiceMeasured>(
      "plugs",
      [text, volts, settings.transmit],
      () => plugText(text, line, volts, null),
      (result) => measurePlugs(result, line),
    ),
  );
  const { measured } = keyed;
  const rest = measured.receiveNode + (base - keyed.volts);
  const drops: Drops[] = [
    {
      state: "receive",
      sourceSide: keyed.volts - measured.receiveNode,
      loadSide: measured.receiveNode - measured.receiveLoad,
    },
  ];
  const transmits = line.loads.some(({ transmit }) => transmit !== null);
  if (transmits)
    drops.push({ state: "transmit", sourceSide: keyed.volts - measured.node, loadSide: measured.node - measured.load });
  const missing: { name: string; why: string }[] = [];
  if (!transmits)
    missing.push({
      name: "radio starts and stops transmitting",
      why: "nothing tells what it draws then; give `transmit`",
    });
  if (plugged.measured.kind === "none") missing.push({ name: "start from dead, plugs", why: plugged.measured.why });
  const happenings = [keyed, plugged].flatMap(({ measured: run, volts }) =>
    run.kind === "none"
      ? []
      : Object.entries(run.stretches).map(([name, stretch]): Happening => {
          // At a lower voltage the line rests lower, too.
          const restThere = measured.receiveNode + (volts - keyed.volts);
          const excess = highest(stretch.sensed) - restThere;
          const remark = volts === base ? "" : `run at ${volts.toFixed(2)} V: the line refuses its normal maximum`;
          return { name, stretch, excess, remark };
        }),
  );
  return { kind: "service", base, rest, drops, loadDrops: measured.receiveDrops, happenings, missing };
}

function* atBaseOrOwn(
  base: number,
  own: number,
  run: (volts: number) => Steps<ServiceMeasured | NotMeasured>,
): Steps<{ readonly measured: ServiceMeasured | NotMeasured; readonly volts: number }> {
  const first = yield* run(base);
  if (first.kind !== "none" || own >= base) return { measured: first, volts: base };
  const second = yield* run(own);
  return second.kind === "none" ? { measured: first, volts: base } : { measured: second, volts: own };
}

/** How long a waveform stays above a level without a break, s. */
export function longestAbove({ time, node }: Stretch, level: number): number {
  let longest = 0;
  let since: number | null = null;
  for (let i = 0; i < node.length; i++) {
    if (node[i] > level) {
      since ??= crossingBefore(time, node, i, level);
      longest = Math.max(longest, time[i] - since);
    } else if (since !== null) {
      longest = Math.max(longest, crossingBefore(time, node, i, level) - since);
      since = null;
    }
  }
  return longest;
}

/**
 * How long a voltage must last until it trips: the filter's way from rest to the trip point, t = τ·ln((v − v0)/(v − V_trip)), and the delay.
 *
 * @param filter τ, s
 * @param delay s
 * @param rest v0, V
 * @param voltage v, V
 * @param trip V
 * @returns s; null where it never trips
 */
export function timeToTrip(filter: number, delay: number, rest: number, voltage: number, trip: number): number | null {
  if (voltage <= trip) return null;
  return filter * Math.log((voltage - rest) / (voltage - trip)) + delay;
}

/** What the protector is told by mistake, against the lowest voltage at which it may trip. */
export function nuisancesOf(
  service: Service,
  line: TripLine,
  settings: TripSettings,
  lowest: number,
  delay: number,
): Nuisance[] {
  const { filter } = line.protector;
  const total = line.protector.delay + delay;
  const rest = service.rest;
  const simulated = service.happenings.map(({ name, stretch, excess, remark }): Nuisance => {
    const node = highest(stretch.node);
    const sensed = highest(stretch.sensed);
    const lasts = longestAbove(stretch, lowest);
    const needed = timeToTrip(filter, total, rest, node, lowest);
    return {
      name,
      how: "simulated",
      node,
      sensed,
      excess,
      volts: lowest - sensed,
      lasts,
      timeLeft: needed === null ? null : needed - lasts,
      remark,
    };
  });
  const picked = rest + settings.pickup;
  const needed = timeToTrip(filter, total, rest, picked, lowest);
  return [
    ...simulated,
    {
      name: "radio-frequency pick-up",
      how: "computed",
      node: picked,
      sensed: picked,
      excess: settings.pickup,
      volts: lowest - picked,
      lasts: 0,
      timeLeft: needed,
      remark: "as given at the sense input; taken as lasting",
    },
    ...service.missing.map(
      ({ name, why }): Nuisance => ({
        name,
        how: "simulated",
        node: null,
        sensed: null,
        excess: 0,
        volts: null,
        lasts: 0,
        timeLeft: null,
        remark: `not simulated: ${why}`,
      }),
    ),
  ];
}
