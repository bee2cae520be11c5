import type { HeadroomData, HeadroomLimit, SurgeData, TimeCurrentData } from "@railfault/sim/figures";

// Invented values of plausible size; no run of the simulator stands behind them.

const limit = (
  subject: string,
  quantity: string,
  headroom: number | null,
  rest: Partial<HeadroomLimit> = {},
): HeadroomLimit => ({
  subject,
  quantity,
  headroom,
  severity: headroom === null ? "not rated" : headroom < 1 ? "beyond" : "ok",
  close: false,
  found: "277 A",
  rating: headroom === null ? null : "506 A",
  ...rest,
});

/** Every severity, headroom far beyond both ends of the scale, a long name, a limit without rating. */
export function everySeverity(): HeadroomData {
  return {
    title: "Every way a limit may come off",
    subtitle: "Four limits were not kept; farthest past its own: relay radio, time above 20 V.",
    limits: [
      limit("crowbar", "RMS current over 1 ms", 1.83),
      limit("crowbar", "RMS current over 10 ms", 0.55, { severity: "unknown" }),
      limit("crowbar", "junction temperature", 0.97, { severity: "used up" }),
      limit("relay radio", "voltage", 0.9995, { severity: "withstood", close: true }),
      limit("relay radio", "time above 20 V", 0.001),
      limit("series switch", "avalanche", null),
      limit("own crowbar of the station supply", "current rise (first 1 µs)", 3.99, {
        found: "43.9 A/µs",
        rating: "175 A/µs",
      }),
      limit("lead of the station supply", "I²t (IEC 60949)", 382, { found: "895 A²s", rating: "342000 A²s" }),
      limit("lead of the relay radio", "I²t (IEC 60949)", 99413, { found: "2.36 A²s", rating: "234000 A²s" }),
    ],
  };
}

export function manyLimits(): HeadroomData {
  const limits = Array.from({ length: 40 }, (_, i) =>
    limit(`part ${Math.floor(i / 5)}`, `quantity ${i}`, 0.2 * 1.2 ** i),
  );
  return { ...everySeverity(), limits };
}

export function surge(scale = 1): SurgeData {
  return {
    title: "Shorted pass transistor: the SCR's surge",
    subtitle: "The SCR took 904 A²s.",
    subject: "SCR",
    parts: [
      { label: "capacitors' dump", i2t: 14.5 * scale },
      { label: "until the fuse melts", i2t: 880 * scale },
      { label: "while its arc burns", i2t: 9.5 * scale },
    ],
    rating: { i2t: 1750, label: "one half-sine" },
    windows: [
      { duration: 1e-3, i2t: 76.7 * scale, allowed: 256 },
      { duration: 1e-2, i2t: 226 * scale, allowed: 2112 },
      { duration: 0.1, i2t: 744 * scale, allowed: 7605 },
      { duration: 1, i2t: 904 * scale, allowed: 30504 },
    ],
  };
}

export function timeCurrent(
  point: TimeCurrentData["point"] = { label: "this run, RMS", current: 83.5, time: 0.128 },
): TimeCurrentData {
  return {
    title: "Shorted pass transistor: what goes first?",
    subtitle: "The fuse melts first.",
    curves: [
      {
        label: "main fuse (blade fuse 20 A) melts, from cold",
        role: "fuse",
        points: [27, 30, 40, 70, 120, 300, 1000].map((current) => ({ current, time: 500 / (current ** 2 - 26 ** 2) })),
        gates: [
          { current: 22, minimum: 360000, maximum: null },
          { current: 40, minimum: 0.15, maximum: 5 },
          { current: 120, minimum: null, maximum: 0.1 },
        ],
      },
      {
        label: "SCR 55 A stands, surge RMS",
        role: "scr",
        points: [
          { current: 506, time: 1e-3 },
          { current: 460, time: 1e-2 },
          { current: 276, time: 0.1 },
        ],
        gates: [],
      },
      {
        label: "lead of the station supply (4 mm²) stands, IEC 60949",
        role: "wire",
        points: [
          { current: 58000, time: 1e-4 },
          { current: 262, time: 5 },
        ],
        gates: [],
      },
    ],
    currents: [
      { label: "in normal operation", role: "operating", value: 8.8 },
      { label: "fault current, peak", role: "fault", value: 273 },
    ],
    point,
  };
}
