import { type CaptureLimits, parseQuantity, readCorrections } from "@railfault/sim";

/** Limits as a person writes them; empty: none. */
export function readLimits(text: string): { readonly limits: CaptureLimits; readonly problem: string | null } {
  if (text.trim() === "") return { limits: { low: null, high: null }, problem: null };
  const { limits, issues } = readCorrections({ limits: text });
  const [first] = issues;
  return { limits, problem: first === undefined ? null : `${first.message} Allowed: ${first.allowed ?? ""}.` };
}

/** A part of the time as a person writes it: `0.9…1.1 s`, `300…400 ms`; empty: all of it. */
export function readPart(text: string): {
  readonly from: number | null;
  readonly to: number | null;
  readonly problem: string | null;
} {
  const all = { from: null, to: null };
  if (text.trim() === "") return { ...all, problem: null };
  const wrong = { ...all, problem: "A part is written as from…to with a unit of time: 0.9…1.1 s." };
  const [first = "", second, ...more] = text.split(/\s*(?:…|\.{2,3}|\bto\b|–)\s*/);
  if (second === undefined || more.length > 0) return wrong;
  const unit = /[^\d.\s+-].*$/.exec(second)?.[0] ?? "s";
  const seconds = (written: string): number => {
    const sign = written.trim().startsWith("-") ? -1 : 1;
    const bare = written.trim().replace(/^[-+]\s*/, "");
    const parsed = parseQuantity(/\d$/.test(bare) ? `${bare} ${unit}` : bare, "time");
    return parsed.ok ? sign * parsed.value : Number.NaN;
  };
  const [from, to] = [seconds(first), seconds(second)];
  return to > from ? { from, to, problem: null } : wrong;
}
