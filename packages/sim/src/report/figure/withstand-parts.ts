import type { Page } from "./chart.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import type { LogScale } from "./log-scale.ts";
import { heavier, type LineStyle, voltageStyle } from "./palette.ts";
import { unbroken } from "./text.ts";
import { formatNumber } from "./time-format.ts";
import type { LoadWithstand, WithstandPoint } from "./withstand-types.ts";

export interface Plot {
  readonly frame: Frame;
  readonly x: { readonly domain: readonly [number, number]; position(value: number): number; readonly ticks: number[] };
  readonly y: LogScale;
}

export interface Styled {
  readonly load: LoadWithstand;
  readonly style: LineStyle;
  /** Another load before it stands the same: one stair tells both. */
  readonly sameAs: boolean;
}

const limitDashes = ["8 3", "8 3 2 3", "3 3"];

export function stylesOf({ colors, weight }: Page, loads: readonly LoadWithstand[]): Styled[] {
  const stands = ({ allowed, maximum }: LoadWithstand) =>
    allowed.length === 0 ? `strict ${maximum}` : JSON.stringify(allowed);
  return loads.map((load, i) => ({
    load,
    style: heavier(voltageStyle(colors, "load", i), weight),
    sameAs: loads.slice(0, i).some((other) => stands(other) === stands(load)),
  }));
}

function limitStyle(page: Page, order: number): LineStyle {
  const line = { color: page.colors.exceedanceInk, width: 2, dash: limitDashes[order % limitDashes.length] };
  return heavier(line, page.weight);
}

export function legendOf(page: Page, loads: readonly LoadWithstand[], styles: readonly Styled[]): LegendItem[] {
  const several = loads.length > 1;
  const found: LegendItem[] = styles.map(({ load, style }) => ({
    text: `${load.label}, found`,
    value: 0,
    color: style.color,
    sample: { kind: "line", width: style.width, dash: style.dash },
  }));
  const stands = styles
    .filter(({ sameAs }) => !sameAs)
    .map(({ load }): LegendItem => {
      const { color, width, dash } = limitStyle(page, loads.indexOf(load));
      const shared = several && styles.every(({ sameAs }, i) => i === 0 || sameAs);
      const who = shared ? "all loads stand" : `${load.label} stands`;
      const what = load.allowed.length === 0 ? "no time above its maximum" : load.assumed ? "(assumed)" : "";
      return { text: `${who} ${what}`.trim(), value: 0, color, sample: { kind: "line", width, dash } };
    });
  const oneMaximum = loads.every(({ maximum }) => maximum === loads[0].maximum);
  const maxima: LegendItem[] = (oneMaximum ? loads.slice(0, 1) : loads).map(({ label, maximum }) => ({
    text: `${oneMaximum ? "" : `${label}: `}window ends at ${unbroken(`${formatNumber(maximum, 4)} V`)}`,
    value: 0,
    color: page.colors.muted,
    sample: { kind: "line", width: 1.4 * page.weight, dash: "1.5 3" },
  }));
  const beyond = loads.some(({ nearest }) => nearest !== null && nearest.found > nearest.allowed);
  const marks: LegendItem[] = loads.some(({ nearest }) => nearest !== null)
    ? [
        {
          text: beyond ? "where it went farthest beyond" : "where it came nearest to its limit",
          value: 0,
          color: page.colors.ink,
          sample: { kind: "line", width: 1.6, dash: "" },
        },
      ]
    : [];
  return [...found, ...stands, ...maxima, ...marks];
}

export function hatchOf(page: Page, parent: Element): string {
  const id = `${page.id}-beyond`;
  const size = { id, width: 8, height: 8, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" };
  const pattern = add(parent, "pattern", size);
  add(pattern, "rect", { width: 8, height: 8, fill: page.colors.tones.alarm.fill, "fill-opacity": 0.45 });
  add(pattern, "rect", { width: 0.9, height: 8, fill: page.colors.exceedanceInk, "fill-opacity": 0.25 });
  return `url(#${id})`;
}

export function drawGrid({ colors }: Page, parent: Element, { frame, x, y }: Plot): void {
  const lines = (d: string, opacity: number) =>
    add(parent, "path", { d, fill: "none", stroke: colors.grid, "stroke-opacity": opacity });
  const across = (value: number) => `M${rounded(frame.left)},${rounded(y.position(value))}H${rounded(frame.right)}`;
  lines(y.minorTicks.map(across).join(""), 0.45);
  const upright = (value: number) => `M${rounded(x.position(value))},${rounded(frame.top)}V${rounded(frame.bottom)}`;
  lines([...y.ticks.map(across), ...x.ticks.map(upright)].join(""), 1);
}

/** The stair of what is allowed with the forbidden ground beyond it, and the end of the load's window. */
export function drawAllowed(
  page: Page,
  parent: Element,
  plot: Plot,
  { load, sameAs }: Styled,
  hatch: string,
  order: number,
) {
  const { frame, x, y } = plot;
  const end = `M${rounded(x.position(load.maximum))},${rounded(frame.top)}V${rounded(frame.bottom)}`;
  const edge = {
    class: "maximum",
    d: end,
    fill: "none",
    stroke: page.colors.bandEdge,
    "stroke-width": 1.4 * page.weight,
  };
  add(parent, "path", { ...edge, "stroke-dasharray": "1.5 3" });
  if (sameAs) return;
  const { color, width, dash } = limitStyle(page, order);
  const corners = load.allowed.length === 0 ? [{ voltage: load.maximum, time: y.domain[0] }] : load.allowed;
  const stair = corners.map(({ voltage, time }) => `V${rounded(y.position(time))}H${right(plot, corners, voltage)}`);
  const line = `M${rounded(x.position(corners[0].voltage))},${rounded(frame.top)}${stair.join("")}`;
  add(parent, "path", { class: "beyond", d: `${line}V${rounded(frame.top)}Z`, fill: hatch });
  add(parent, "path", {
    class: "allowed-time",
    d: line,
    fill: "none",
    stroke: color,
    "stroke-width": width,
    "stroke-dasharray": dash,
  });
  for (const { voltage, time } of load.allowed) {
    const [cx, cy] = [x.position(voltage), y.position(time)];
    const d = `M${rounded(cx - 5)},${rounded(cy - 4)}h10l-5,8z`;
    add(parent, "path", { class: "level", d, fill: color, stroke: page.colors.ground });
  }
}

/** Each step reaches to the next voltage, the last one to the edge. */
function right({ frame, x }: Plot, corners: readonly WithstandPoint[], voltage: number): number {
  const next = corners.find((corner) => corner.voltage > voltage);
  return rounded(next === undefined ? frame.right : x.position(next.voltage));
}

/** Down to the peak, above which it never was. */
export function drawFound(parent: Element, { x, y }: Plot, { load, style }: Styled): void {
  const group = add(parent, "g", {
    class: "curve",
    fill: "none",
    stroke: style.color,
    "stroke-width": style.width,
    "stroke-linejoin": "round",
    ...(style.dash === "" ? {} : { "stroke-dasharray": style.dash }),
  });
  add(group, "title", {}, `${load.label}, longest time above each voltage`);
  const shown = shownPart(load, y.domain[0]).map(
    ({ voltage, time }) => `${rounded(x.position(voltage))},${rounded(y.position(time))}`,
  );
  if (shown.length > 0) add(group, "path", { d: `M${shown.join("L")}` });
}

/** Down to the shortest time shown; at the peak the time is none. */
function shownPart({ found, peak }: LoadWithstand, shortest: number): WithstandPoint[] {
  const end = found.findIndex(({ time }) => time < shortest);
  if (end === 0 || found.length === 0) return [];
  const kept = found.slice(0, end < 0 ? found.length : end);
  const last = kept[kept.length - 1];
  const next = end < 0 ? { voltage: peak, time: shortest } : found[end];
  const way = end < 0 ? 1 : Math.log(shortest / last.time) / Math.log(next.time / last.time);
  return [...kept, { voltage: last.voltage + way * (next.voltage - last.voltage), time: shortest }];
}

/** A double arrow between what was found and what is allowed. */
export function drawNearest(
  page: Page,
  parent: Element,
  { x, y }: Plot,
  { voltage, found, allowed }: NonNullable<LoadWithstand["nearest"]>,
): void {
  const { colors, weight } = page;
  const [at, from, to] = [x.position(voltage), y.position(found), y.position(allowed)].map(rounded);
  const group = add(parent, "g", { class: "nearest" });
  add(group, "path", { d: `M${at},${from}V${to}`, fill: "none", stroke: colors.ink, "stroke-width": 1.6 * weight });
  add(group, "circle", { cx: at, cy: from, r: 5, fill: colors.ink, stroke: colors.ground, "stroke-width": 1.5 });
}
