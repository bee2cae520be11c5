import type { FigureEvent, StateSpan, WaveformData } from "@railfault/sim/figures";

// Invented curves of plausible shape, from formulas and a seeded generator; no run of the simulator stands behind them.

/** Park and Miller's minimal generator (CACM 31(10), 1988): 0…1, the same on every machine. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

function logarithmicTimes(fault: number, end: number, shortest: number, count: number, steps: readonly number[]) {
  const times = Array.from({ length: 20 }, (_, i) => (fault * i) / 20);
  for (let i = 0; i < count; i++) times.push(fault + shortest * ((end - fault) / shortest) ** (i / (count - 1)));
  for (const step of [fault, ...steps]) times.push(step, step);
  return Float64Array.from(times.sort((a, b) => a - b));
}

/** Values just before and just after each doubled instant: the second of a pair belongs to the next stretch. */
function curve(time: Float64Array, value: (t: number, after: (step: number) => boolean) => number): Float64Array {
  return Float64Array.from(time, (t, i) => value(t, (step) => t > step || (t === step && time[i - 1] === step)));
}

const span = (from: number, to: number, tag: string, tone: StateSpan["tone"]): StateSpan => ({ from, to, tag, tone });
const event = (time: number, label: string, important = true): FigureEvent => ({
  time,
  label,
  important,
  explanation: `At ${time} s ${label}.`,
});

/** A shorted pass transistor: microseconds of rise, an SCR's dump of 400 A, a fuse that melts and arcs. */
export function shortedPass(end = 0.6, points = 6000): WaveformData {
  const [fault, fires, melts, clears] = [0.01, 0.01103, 0.0962, 0.09685];
  const noise = seeded(7);
  const time = logarithmicTimes(fault, end, 1e-7, points, [fires, melts, clears]);
  const guarded = curve(time, (t, after) => {
    if (after(clears)) return 0;
    if (after(melts)) return 1.6 - 0.8 * ((t - melts) / (clears - melts));
    if (after(fires)) return 1.35 + 3 * Math.exp(-(t - fires) / 4e-6);
    return after(fault) ? 13.8 + 4.1 * (1 - Math.exp(-(t - fault) / 6e-4)) : 13.8;
  });
  const radio = curve(time, (t, after) => {
    if (after(fires)) return 15.9 * Math.exp(-(t - fires) / 2e-3) + 0.45 * Math.exp(-(t - fires) / 0.2);
    return after(fault) ? 13.6 + 3.45 * (1 - Math.exp(-(t - fault) / 6.4e-4)) : 13.6;
  });
  const supply = curve(time, (t, after) => {
    if (after(clears)) return 24.5 - 2 * Math.exp(-(t - clears) / 0.05);
    if (after(fires)) return 9.8 + 6 * Math.exp(-(t - fires) / 3e-3) + 0.05 * noise();
    return after(fault) ? 13.9 + 5 * (1 - Math.exp(-(t - fault) / 4e-4)) : 13.9;
  });
  const lead = curve(time, (t, after) => {
    if (after(clears)) return 0;
    if (after(melts)) return 58 * (1 - (t - melts) / (clears - melts));
    if (after(fires)) return 64 + 140 * (1 - Math.exp(-(t - fires) / 2e-5)) * Math.exp(-(t - fires) / 3e-3);
    return 4.2 + (after(fault) ? 11 * (1 - Math.exp(-(t - fault) / 3e-4)) : 0);
  });
  const scr = curve(time, (t, after) => {
    if (after(clears) || !after(fires)) return 0;
    return 60 + 410 * (1 - Math.exp(-(t - fires) / 2e-6)) * Math.exp(-(t - fires) / 2e-4);
  });
  return {
    title: "Shorted pass transistor, 20 A linear supply",
    subtitle: "The radio stood at 16.4 V for 0.6 ms: above its window, within what it stands.",
    time,
    faultTime: fault,
    voltages: [
      { label: "radio", role: "load", values: radio },
      { label: "protected side", role: "protector", values: guarded },
      { label: "supply terminals", role: "supply", values: supply },
    ],
    window: { minimum: 11.7, maximum: 15.8 },
    currents: [
      { label: "supply lead", values: lead, limit: { value: 26, label: "main fuse melts above" } },
      { label: "SCR", values: scr, limit: { value: 300, label: "SCR surge rating" } },
    ],
    states: [
      {
        label: "supply",
        spans: [span(0, fault, "running", "idle"), span(fault, end, "pass transistor shorted", "alarm")],
      },
      {
        label: "SCR",
        spans: [
          span(0, fires, "blocking", "idle"),
          span(fires, clears, "conducting", "active"),
          span(clears, end, "blocking", "idle"),
        ],
      },
      {
        label: "main fuse 20 A",
        spans: [
          span(0, melts, "intact", "idle"),
          span(melts, clears, "arcing", "alarm"),
          span(clears, end, "open", "off"),
        ],
      },
      { label: "radio", spans: [span(0, 0.0115, "on", "active"), span(0.0115, end, "off", "off")] },
    ],
    events: [
      event(fault, "the pass transistor shorts"),
      event(fires, "the SCR fires"),
      event(0.0115, "the radio switches off", false),
      event(melts, "the main fuse melts"),
      event(clears, "the main fuse is open"),
    ],
  };
}

/** A supply in hiccup mode against an SCR: repeated tripping, `period` s apart, over `end` s. */
export function hiccup(period = 0.62, end = 10): WaveformData {
  const fault = 0.05 * end;
  const on = period * 0.16;
  const random = seeded(11);
  const count = 20000;
  const time = Float64Array.from({ length: count }, (_, i) => (end * i) / (count - 1));
  const firings: number[] = [];
  for (let t = fault + 0.02 * period; t < end; t += period * (0.995 + 0.01 * random())) firings.push(t);
  const lastFiring = (t: number) => firings.findLast((firing) => firing <= t) ?? -Infinity;
  const conducting = (t: number) => t - lastFiring(t) < on;
  const rising = (t: number) => Math.max(0, 1 - (t - lastFiring(t)) / period);
  const radio = time.map((t) => (t < firings[0] ? 13.7 : conducting(t) ? 1.1 : 15.2 * (1 - rising(t) ** 3)));
  const scr = time.map((t) => (t >= firings[0] && conducting(t) ? 32 + random() : 0));
  const toggling = (a: StateSpan, b: StateSpan): StateSpan[] =>
    firings.flatMap((t, i) => {
      const next = firings[i + 1] ?? end;
      const turn = Math.min(t + on, next);
      return [{ ...a, from: t, to: turn }, ...(next > turn ? [{ ...b, from: turn, to: next }] : [])];
    });
  return {
    title: "Hiccup supply against a plain SCR",
    subtitle: "The radio never saw more than 15.2 V: inside its window. The protector trips again and again.",
    time,
    faultTime: fault,
    voltages: [
      { label: "radio", role: "load", values: radio },
      { label: "protected side", role: "protector", values: radio.map((v) => v + 0.15) },
    ],
    window: { minimum: 11.7, maximum: 15.8 },
    currents: [
      {
        label: "supply lead",
        values: scr.map((i, k) => i + (radio[k] > 11 ? 6 : 0.5)),
        limit: { value: 46, label: "main fuse melts above" },
      },
      { label: "SCR", values: scr, limit: { value: 300, label: "SCR surge rating" } },
    ],
    states: [
      {
        label: "supply",
        spans: [
          span(0, firings[0], "running", "idle"),
          ...toggling(span(0, 0, "limiting", "active"), span(0, 0, "off", "off")),
        ],
      },
      {
        label: "SCR",
        spans: [
          span(0, firings[0], "blocking", "idle"),
          ...toggling(span(0, 0, "conducting", "active"), span(0, 0, "blocking", "idle")),
        ],
      },
      { label: "main fuse 30 A", spans: [span(0, end, "intact", "idle")] },
    ],
    events: [
      event(fault, "the set voltage is turned up"),
      ...firings.map((t) => event(t, "the SCR fires")),
      ...firings.filter((t) => t + on < end).map((t) => event(t + on, "the supply stops", false)),
    ].sort((a, b) => a.time - b.time),
  };
}

/** A charger that creeps for two hours into a line with nothing that protects. */
export function creep(points = 900): WaveformData {
  const [fault, end] = [600, 7800];
  const time = Float64Array.from({ length: points }, (_, i) => (end * i) / (points - 1));
  const line = time.map((t) => 13.6 + (t > fault ? (1.1 * (t - fault)) / 3600 + 0.02 * Math.sin(t / 90) : 0));
  return {
    title: "A charger without feedback creeps upward",
    subtitle: "The radio stood at 15.8 V for 11 min: beyond what it stands.",
    time,
    faultTime: fault,
    voltages: [
      { label: "relay radio", role: "load", values: line },
      { label: "charger", role: "supply", values: line.map((v) => v + 0.12) },
    ],
    window: { minimum: 11.7, maximum: 15.6 },
    currents: [{ label: "battery", values: time.map((t) => (t < fault ? 0.2 : -3.2 * Math.exp(-(t - fault) / 4000))) }],
    states: [
      { label: "charger", spans: [span(0, fault, "holding", "idle"), span(fault, end, "feedback lost", "alarm")] },
    ],
    events: [event(fault, "the feedback is lost"), event(7145, "the radio's window is left")],
  };
}

/** Two radios on different leads, two supplies, many devices and more events than the list has lines for. */
export function twoRadios(): WaveformData {
  const base = shortedPass(20);
  const [radio, guarded, supply] = base.voltages;
  const random = seeded(3);
  const kinds = [
    "the fuse of the long lead warms",
    "the switch starts to open",
    "the second supply limits",
    "the radio browns out",
  ];
  const extra = Array.from({ length: 12 }, (_, i) =>
    event(0.0101 * 1.85 ** (i + random()), `${kinds[i % 4]} (step ${i + 1})`, i % 3 !== 0),
  ).filter((each) => each.time < 20);
  return {
    ...base,
    title: "Two radios on one protected line, the second at the end of a long thin lead beside the generator shed",
    subtitle:
      "The relay radio stood at 16.4 V for 0.6 ms: above its window, within what it stands; the hut radio never saw more than 15.3 V: inside its window.",
    voltages: [
      { ...radio, label: "relay radio" },
      { label: "hut radio on a long lead", role: "load", values: radio.values.map((v) => v * 0.9) },
      guarded,
      { ...supply, label: "linear supply" },
      { label: "switch-mode supply", role: "supply", values: supply.values.map((v) => v * 0.96) },
    ],
    currents: [
      ...base.currents,
      { label: "relay radio lead", values: base.currents[0].values.map((i) => i * 0.2) },
      { label: "hut radio lead", values: base.currents[0].values.map((i) => i * 0.1) },
    ],
    states: [
      ...base.states,
      {
        label: "series switch",
        spans: [
          span(0, 0.0113, "closed", "idle"),
          span(0.0113, 0.0114, "opening", "active"),
          span(0.0114, 20, "open until reset", "off"),
        ],
      },
      { label: "hut radio on a long lead", spans: [span(0, 20, "on", "active")] },
    ],
    events: [...base.events, ...extra].sort((a, b) => a.time - b.time),
  };
}

/** Nothing is exceeded, nothing happens after the fault. */
export function harmless(): WaveformData {
  const data = creep();
  return { ...data, window: { minimum: 11, maximum: 17 }, events: data.events.slice(0, 1) };
}

/** A dump of 700 A from the capacitors into an SCR, where otherwise a few amperes flow for minutes. */
export function capacitorDump(): WaveformData {
  const data = shortedPass(180);
  const [supplyLead, scr] = data.currents;
  const small = (value: number, i: number) => (data.time[i] > 0.0115 ? 3.1 : Math.min(value, 6));
  return {
    ...data,
    title: "A small current-limited supply and a large capacitor",
    currents: [
      { ...supplyLead, values: supplyLead.values.map(small), limit: { value: 8, label: "main fuse melts above" } },
      {
        ...scr,
        values: scr.values.map((value, i) => (value > 60 ? (value - 60) * 1.7 : 0) + (data.time[i] > 0.0115 ? 2.6 : 0)),
      },
    ],
  };
}
