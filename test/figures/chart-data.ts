import type {
  HeadroomData,
  HeadroomLimit,
  HeatData,
  MatchCell,
  MatchData,
  SurgeData,
  TimeCurrentData,
  WithstandData,
} from "@railfault/sim/figures";
import { shortedPass } from "./synthetic.ts";

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
      { label: "what the capacitors add", i2t: 14.5 * scale },
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

const stair = [
  { voltage: 16, time: 1 },
  { voltage: 18.4, time: 0.01 },
  { voltage: 20, time: 1e-3 },
  { voltage: 25, time: 1e-4 },
];

/** One load that went beyond what it stands, or stayed far below it; strict: a load that stands nothing above its maximum. */
export function withstand(kind: "beyond" | "inside" | "strict" | "two loads" = "beyond"): WithstandData {
  const peak = kind === "inside" ? 14.7 : 22.99;
  const found = Array.from({ length: 40 }, (_, i) => 13.5 + ((peak - 13.5) * i) / 40).map((voltage) => ({
    voltage,
    time: 0.03 * (1 - (voltage - 13.5) / (peak - 13.5)) ** 0.5,
  }));
  const load = {
    label: "relay radio",
    maximum: 15.87,
    peak,
    found,
    allowed: kind === "strict" ? [] : stair,
    assumed: true,
    nearest: kind === "beyond" || kind === "two loads" ? { voltage: 20, found: 0.0168, allowed: 1e-3 } : null,
  };
  const other = { ...load, label: "link radio on a long lead", maximum: 15.2, peak: 15.49, found: [], nearest: null };
  return {
    title: "Relay contact: how long above which voltage?",
    subtitle: "The relay radio was above 20 V for 16.8 ms; its curve, which is assumed, allows 1 ms.",
    loads: kind === "two loads" ? [load, other] : [load],
  };
}

/** A junction that warms to 78 °C, or is destroyed; a fuse that melts; without SCR only the fuse. */
export function heat(kind: "warm" | "destroyed" | "fuse alone" = "warm"): HeatData {
  const { time, faultTime, events } = shortedPass(0.6, 150);
  const [fires, melts] = [events[1].time, events[3].time];
  const way = (t: number) => Math.min(1, Math.max(0, (t - fires) / (melts - fires)));
  const scale = kind === "destroyed" ? 1900 : 53;
  const after = (t: number) => (t > melts ? Math.exp(-(t - melts) / 0.1) : 1);
  return {
    title: "Shorted pass transistor: how hot?",
    subtitle: "The SCR's junction reached 78 °C (rated 125 °C) 86 ms after the fault.",
    time,
    faultTime,
    events,
    ambient: 25,
    temperatures:
      kind === "fuse alone"
        ? []
        : [
            {
              label: "SCR junction",
              values: time.map((t) => 25 + scale * Math.sqrt(way(t)) * after(t)),
              limits: [
                { value: 125, label: "SCR rated for" },
                { value: 250, label: "SCR fails above" },
              ],
            },
          ],
    melting: [
      { label: "main fuse", values: time.map((t) => way(t) ** 1.5), limits: [{ value: 1, label: "it melts at" }] },
    ],
  };
}

/** A matrix with every kind of cell, long names and short words. */
export function matrix(fuses = 9): MatchData {
  const scrs = [
    "SCR 8 A",
    "SCR 12 A",
    "SCR 16 A",
    "SCR 25 A",
    "SCR 25 A, crowbar grade",
    "SCR 40 A",
    "SCR 50 A",
    "SCR 55 A",
  ];
  const wires = [0.75, 1, 1.5, 2.5, 4, 6, 10, 16].map((size) => `${size} mm²`);
  const names = [
    "blade fuse 20 A",
    "maxi blade fuse 30 A",
    "cartridge fuse 6.3x32 20 A, slow",
    "a fuse from the odds box of the workshop",
  ];
  const kinds: readonly MatchCell[] = [
    { state: "fell alone", text: "dump" },
    { state: "fell together", text: "I²t" },
    { state: "sound", text: "4 mm²" },
    { state: "kept", text: "no run" },
  ];
  return {
    title: "Shorted pass transistor: which fuse with which SCR and wire?",
    subtitle: "2 combinations of 2368 are sound. What stands in the file is not among them.",
    scrs,
    wires,
    rows: Array.from({ length: fuses }, (_, i) => ({
      fuse: names[i % names.length],
      yours: i === 0,
      withScrs: scrs.map((_, k) => kinds[(i + k) % kinds.length]),
      withWires: wires.map(
        (_, k): MatchCell => (k < 3 ? { state: "fell together", text: "wire" } : { state: "kept", text: "0.76 V" }),
      ),
    })),
    words: [
      { word: "dump", meaning: "the capacitors alone exceed the SCR’s I²t" },
      { word: "I²t", meaning: "dump, melting and arcing exceed the SCR’s I²t" },
      { word: "wire", meaning: "the fuse lets the wire overheat for good" },
    ],
    leftOut: "28 more fuses are not shown; the text tells of each.",
  };
}
