import type { TripData, TripPoint } from "@railfault/sim/figures";

const share = (name: string, value: number, spread = false) => ({ name, value, spread });

function point(label: string, nominal: number, half: number, fits: boolean): TripPoint {
  const rss = { low: nominal - 0.4 * half, high: nominal + 0.4 * half };
  return { label, nominal, low: nominal - half, high: nominal + half, rss, fits };
}

/** A line with a band, one whose charger leaves none, and one whose protector comes too late for any. */
export function trip(kind: "band" | "none" | "crossed" = "band"): TripData {
  const raised = kind === "none" ? [share("raised to charge the battery", 0.6), share("cold compensation", 0.9)] : [];
  const rows = [
    share("set voltage of the station supply", 13.8),
    ...raised,
    share("accuracy of the setting", 0.14, true),
    share("ripple, peak above mean", 0.05, true),
    share("drop from source to protector, receive", -0.04),
    share("plug of the relay radio with its long name goes into the live line", 0.09, true),
    share("radio-frequency pick-up", 0.1, true),
  ];
  const late =
    kind === "crossed"
      ? [share("rise while the sense filter follows", -0.34), share("rise until the protector acts", -3.2)]
      : [share("drop from protector to load, receive", 0.02)];
  const limits = [share("limit of the relay radio", 15.87), ...late];
  const sum = (shares: readonly { readonly value: number }[]) => shares.reduce((total, { value }) => total + value, 0);
  const band = { low: sum(rows), high: sum(limits) };
  const window = { low: band.low + 0.6, high: band.high - 0.64 };
  const exists = kind === "band";
  return {
    title: "Where to set the trip: relay station",
    subtitle: exists
      ? "Set the trip point between 14.74 V and 15.25 V. Its middle, 15.00 V, leaves most room on both sides."
      : "No trip point is right in the worst case. The cheapest change that opens one: charger without cold compensation.",
    facts: "shunt reference 1 %, resistors of 1 %, −20 °C to 40 °C; worst case",
    below: { title: "Normal service, from below", edge: "never trips falsely from", shares: rows },
    above: { title: "The load’s limit, from above", edge: "stops the line’s fault up to", shares: limits },
    band,
    bandRss: { low: band.low - 0.18, high: band.high },
    window,
    points: [
      point(exists ? "in the middle" : "least wrong", (window.low + window.high) / 2, 0.6, exists),
      point("12.1 kΩ over 2.4 kΩ, E96", 15.07, 0.6, exists),
    ],
  };
}
