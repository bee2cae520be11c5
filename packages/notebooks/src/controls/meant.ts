/**
 * The value that a refused text probably means: a number without its unit, or with a decimal comma. It is offered, never taken.
 *
 * @param shown the present value with its unit, as it is shown
 * @returns null where nothing is likely, or what is likely lies outside the range
 * @example meantBy("16,5", "15 V", parse, { min: 12, max: 18 }) // 16.5
 */
export function meantBy(
  text: string,
  shown: string,
  parse: (text: string) => number,
  { min, max }: { readonly min: number; readonly max: number },
): number | null {
  const written = /^([+-]?\d+)(?:[.,](\d+))?\s*(.*)$/s.exec(text.trim());
  const unit = /^[+−-]?[\d.]+\s*(.*)$/s.exec(shown)?.[1] ?? "";
  if (written === null) return null;
  const [, whole, decimals = "", own] = written;
  try {
    const number = parse(`${whole}${decimals === "" ? "" : `.${decimals}`} ${own === "" ? unit : own}`.trim());
    return number >= min && number <= max ? number : null;
  } catch {
    return null;
  }
}
