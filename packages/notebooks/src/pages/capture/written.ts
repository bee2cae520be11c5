import { type CaptureLimits, type ChannelLayout, type Issue, parseQuantity, readCorrections } from "@railfault/sim";

/** A problem that no place in a file belongs to. */
export function problemOf(message: string, received: string | null = null, allowed: string | null = null): Issue {
  const nowhere = { path: "", hint: null, position: null };
  return { severity: "error", code: "not-read", message, received, allowed, ...nowhere };
}

/** Fields about a channel: what each is called, how the command has it written before the value, what it may hold. */
export const channelFields = {
  offset: { label: "Shows for nothing", before: "offset ", allowed: "a voltage or a current: 12 mV, -0.2 A" },
  amperesPerVolt: { label: "Shunt or clamp", before: "", allowed: "shunt 1 mohm, 10 mV/A or 100 A/V" },
  deskew: { label: "Shows it later by", before: "deskew ", allowed: "a time: 12 ns" },
} as const;

/** Such a field as a person filled it in; a problem has the field's own name. */
export function readChannelField(
  column: number,
  field: keyof typeof channelFields,
  value: string,
): { readonly said: Partial<ChannelLayout>; readonly issues: readonly Issue[] } {
  if (value === "") return { said: {}, issues: [] };
  const { label, before, allowed } = channelFields[field];
  // A comma or semicolon would begin something else, which the field is not for.
  const { corrections, issues } = readCorrections({ channel: `${column}: x, ${before}${value.replace(/[,;]/g, "?")}` });
  const found = corrections.channels?.[0]?.[field];
  if (issues.length === 0 && found != null) return { said: { [field]: found }, issues };
  return { said: {}, issues: [problemOf(`Column ${column}, “${label}”: this cannot be read.`, value, allowed)] };
}

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
  const [first = "", second, ...more] = text.split(/…|\.{2,3}|\bto\b|–/);
  if (second === undefined || more.length > 0) return wrong;
  const unit = /[^\d.\s+-].*$/s.exec(second)?.[0] ?? "s";
  const seconds = (written: string): number => {
    const sign = written.trim().startsWith("-") ? -1 : 1;
    const bare = written.trim().replace(/^[-+]\s*/, "");
    const parsed = parseQuantity(/\d$/.test(bare) ? `${bare} ${unit}` : bare, "time");
    return parsed.ok ? sign * parsed.value : Number.NaN;
  };
  const [from, to] = [seconds(first), seconds(second)];
  return to > from ? { from, to, problem: null } : wrong;
}
