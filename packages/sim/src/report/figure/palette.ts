import type { Tone, VoltageCurve } from "../state-types.ts";

/** Colours of one scheme. What is written or drawn as a line stands at ≥ 4.5:1 before everything it can lie on. */
export interface Palette {
  readonly ground: string;
  readonly ink: string;
  readonly muted: string;
  readonly grid: string;
  readonly axis: string;
  readonly band: string;
  readonly bandEdge: string;
  readonly exceedance: string;
  readonly exceedanceInk: string;
  readonly rule: string;
  readonly loads: readonly string[];
  readonly protector: string;
  readonly supply: string;
  readonly currents: readonly string[];
  /** Neither safe nor lost; what is safe has the colours of the band, what is lost those of the alarm. */
  readonly warm: { readonly fill: string; readonly edge: string };
  readonly tones: Readonly<Record<Tone, { readonly fill: string; readonly edge: string }>>;
}

const light: Palette = {
  ground: "#fcfbf8",
  ink: "#1c2333",
  muted: "#555d6b",
  grid: "#e5e3dc",
  axis: "#9a9da5",
  band: "#e3efe4",
  bandEdge: "#3d6b4a",
  exceedance: "#f6bfa2",
  exceedanceInk: "#9c2f08",
  rule: "#8b8fa0",
  loads: ["#0f4c8a", "#0a6a70", "#5a2f86"],
  protector: "#8c4600",
  supply: "#5a606d",
  currents: ["#54328c", "#a5310f", "#0a6166", "#6b5200"],
  warm: { fill: "#f8e9d3", edge: "#8c4600" },
  tones: {
    idle: { fill: "#eceae4", edge: "#c9c6bd" },
    active: { fill: "#cfe1f3", edge: "#2f6aa8" },
    alarm: { fill: "#fad4bf", edge: "#b23c10" },
    off: { fill: "#ffffff", edge: "#7d8290" },
  },
};

const dark: Palette = {
  ground: "#171b25",
  ink: "#eef0f4",
  muted: "#aab2c0",
  grid: "#2b313e",
  axis: "#5d6576",
  band: "#1d332a",
  bandEdge: "#7fbf95",
  exceedance: "#70301a",
  exceedanceInk: "#ffb096",
  rule: "#6f788c",
  loads: ["#8cc2fb", "#5fd6cd", "#cfb0f7"],
  protector: "#f3b069",
  supply: "#aab2c0",
  currents: ["#c9adf6", "#ff9a7a", "#5fd6cd", "#e3c869"],
  warm: { fill: "#3b2c17", edge: "#f3b069" },
  tones: {
    idle: { fill: "#2a303d", edge: "#434b5b" },
    active: { fill: "#1d3f63", edge: "#7db4ee" },
    alarm: { fill: "#662a15", edge: "#ff8d66" },
    off: { fill: "#12151d", edge: "#7b8496" },
  },
};

/** The colours of a scheme; both were chosen for this project. */
export function palette(scheme: "light" | "dark"): Palette {
  return scheme === "dark" ? dark : light;
}

/** Colours and the weight of lines: 1 beside text, more where they are seen from afar. */
export interface Look {
  readonly colors: Palette;
  readonly weight: number;
}

/** How a curve is drawn: never told apart by its colour alone. */
export interface LineStyle {
  readonly color: string;
  readonly width: number;
  /** An SVG dash array; empty for a solid line. */
  readonly dash: string;
}

/** The same line for a picture that is seen from farther away: its dashes grow with it. */
export function heavier({ color, width, dash }: LineStyle, weight: number): LineStyle {
  const scaled = (number: string) => String(Math.round(Number(number) * weight * 100) / 100);
  return { color, width: width * weight, dash: dash === "" ? "" : dash.split(" ").map(scaled).join(" ") };
}

/** `order` counts the curves of the same role from 0. */
export function voltageStyle(colors: Palette, role: VoltageCurve["role"], order: number): LineStyle {
  if (role === "protector") return { color: colors.protector, width: 1.4, dash: order === 0 ? "6 3" : "6 3 2 3" };
  if (role === "supply") return { color: colors.supply, width: 1.4, dash: order === 0 ? "2 2.5" : "2 2.5 6 2.5" };
  const dashes = ["", "11 3", "5 2", "2 2.5"];
  const rows = colors.loads.length;
  // Each time the colours are used up, the dashes move on by one: twelve lines that differ.
  const dash = dashes[((order % rows) + Math.floor(order / rows)) % dashes.length];
  return { color: colors.loads[order % rows], width: 2.4, dash };
}

/** `order` counts the currents from 0. */
export function currentStyle(colors: Palette, order: number): LineStyle {
  const dashes = ["", "8 3", "2.5 2.5", "10 3 2 3"];
  return { color: colors.currents[order % colors.currents.length], width: 2, dash: dashes[order % dashes.length] };
}
