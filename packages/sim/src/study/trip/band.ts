import type { Issue } from "../../issue/issue.ts";
import { windowOf, within } from "./dividers.ts";
import { bottomEdge, fastEdge, normalRows, type ResponseFound, slowEdge } from "./edges.ts";
import { readTripLine, type TripLine } from "./line.ts";
import { findResponse, type NoResponse, type Response } from "./response.ts";
import type { Bench, Steps } from "./runs.ts";
import { findService, type Service } from "./service.ts";
import { issue } from "./settings.ts";
import { type Gate, gateOf, type ThresholdDevice, thresholdDevice } from "./thresholds.ts";
import { zenerTrip } from "./tolerance.ts";
import type { Edge, Range, TripSettings } from "./types.ts";

/** The band of one line with one threshold device; what a study is made of, and what it tries changes on. */
export interface Band {
  readonly kind: "band";
  readonly line: TripLine;
  readonly settings: TripSettings;
  readonly device: ThresholdDevice;
  readonly gate: Gate;
  /** Of the threshold device, s. */
  readonly delay: number;
  readonly service: Service;
  readonly response: Response | NoResponse;
  readonly bottom: Edge;
  readonly top: Edge;
  readonly tops: { readonly fast: Edge | null; readonly slow: Edge };
  readonly rules: "fast" | "slow";
  readonly band: Range;
  readonly bandRss: Range;
  readonly window: Range;
  readonly windowRss: Range;
  readonly exists: boolean;
  readonly existsRss: boolean;
}

/** A band that cannot be told, with every reason. */
export interface NoBand {
  readonly kind: "refused";
  /** Every reason; at least one is an error. */
  readonly issues: readonly Issue[];
}

/** Width of the window for the nominal trip point, V; of a zener, how far its one trip point lies inside: twice the smaller distance. */
export function widthOf({ window: { low, high }, device }: Band): number {
  if (device.kind !== "zener") return high - low;
  const nominal = zenerTrip(device);
  return 2 * Math.min(nominal - low, high - nominal);
}

/** What the run at the highest trip voltage showed; where the line would trip there at rest, of a higher one. */
function responseFound({ measured, trip, verified }: Response): ResponseFound {
  const { load, limit, peak, decided, acted } = measured;
  const at = verified ? trip : trip + (peak - limit);
  return { trip: at, load, limit, peak, decided: decided ?? peak, acted: acted ?? decided ?? peak, verified };
}

/** Refusals that no lower voltage mends: what helps is the line's own remedy. */
const AT_ANY_VOLTAGE = /^(melts|starved|no-operating)/;

/** Works out the band: normal service below, the fault above, the threshold's tolerance in between. */
export function* findBand(bench: Bench, text: string, file: string, settings: TripSettings): Steps<Band | NoBand> {
  const parsed = bench.memory.parse(text, file);
  if (parsed.scenario === null) return { kind: "refused", issues: parsed.issues };
  const line = readTripLine(parsed, parsed.scenario, settings);
  if (Array.isArray(line)) return { kind: "refused", issues: line };
  const device = thresholdDevice(settings.threshold);
  const delay = settings.delay ?? device.delay.value;
  const normal = normalRows(line, settings);
  const base = normal.reduce((sum, { value }) => sum + value, 0);
  const service = yield* findService(bench, text, line, settings, base);
  if (service.kind === "none") {
    const why = issue("not-run", "", `Normal service at ${base.toFixed(2)} V could not be run: ${service.why}`, {
      hint: AT_ANY_VOLTAGE.test(service.code)
        ? service.hint
        : "lower `charge-voltage`, `compensation` or `supply-maximum`, or run the file by itself first",
    });
    return { kind: "refused", issues: [why] };
  }
  const response = yield* findResponse(bench, text, line, settings, delay);
  if (response.kind === "not run") {
    return { kind: "refused", issues: [issue("not-run", "", `The fault could not be run: ${response.why}`)] };
  }
  const transient = service.happenings.reduce(
    (most, { name, excess }) => (excess > most.excess ? { name, excess } : most),
    { name: "transients of normal service", excess: 0 },
  );
  const [received] = service.drops;
  const bottom = bottomEdge(normal, { sourceDrop: received.sourceSide, transient }, settings);
  const fast = response.kind === "response" ? fastEdge(responseFound(response)) : null;
  const drops = line.loads.map(({ name, limit }, order) => ({ name, limit, drop: service.loadDrops[order] }));
  const slow = slowEdge(drops, settings);
  const rules = fast !== null && fast.worst < slow.worst ? "fast" : "slow";
  const top = fast !== null && rules === "fast" ? fast : slow;
  const gate = gateOf(line.protector.label);
  const about = {
    coldest: settings.coldest,
    hottest: settings.hottest,
    resistors: settings.resistors,
    bias: settings.bias,
    gate,
  };
  const band = { low: bottom.worst, high: top.worst };
  const bandRss = { low: bottom.rss, high: top.rss };
  const window = windowOf(device, band, about, ({ low, high }) => ({ low, high }));
  const windowRss = windowOf(device, bandRss, about, ({ rss }) => rss);
  const possible = (range: Range): boolean =>
    device.kind === "zener"
      ? within({ low: zenerTrip(device), high: zenerTrip(device) }, range)
      : range.low <= range.high;
  return {
    kind: "band",
    line,
    settings,
    device,
    gate,
    delay,
    service,
    response,
    bottom,
    top,
    tops: { fast, slow },
    rules,
    band,
    bandRss,
    window,
    windowRss,
    exists: possible(window),
    existsRss: possible(windowRss),
  };
}
