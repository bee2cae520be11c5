/** Between groups of digits: narrow, and no place to break. */
const NARROW = "\u202f";

/**
 * The same text with the digits of its whole numbers in groups of three from 10 000 on; nothing parts four digits.
 * For sentences and pictures: `parseQuantity` does not read it back.
 *
 * @example groupDigits("342000 A²s") // "342 000 A²s", with a narrow no-break space
 */
export function groupDigits(text: string): string {
  return text.replace(/(?<![\d.])\d{5,}/g, (digits) => {
    const first = digits.length % 3 || 3;
    return digits.slice(0, first) + digits.slice(first).replace(/\d{3}/g, `${NARROW}$&`);
  });
}
