import { formatQuantity } from "@railfault/sim";

/** A time with its unit, as a person reads it. */
export const time = (value: number, digits = 3): string => formatQuantity(value, "time", { digits });

/** A whole number with its thousands apart. */
export const grouped = (value: number): string => String(value).replace(/\B(?=(\d{3})+$)/g, "\u202f");

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const the = (name: string): string => (/^(the |[A-Z])/.test(name) ? name : `the ${name}`);

/** In the middle of a sentence; what begins with several capitals keeps them. */
export const small = (text: string): string => text.replace(/^\p{Lu}(?!\p{Lu})/u, (first) => first.toLowerCase());

export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
