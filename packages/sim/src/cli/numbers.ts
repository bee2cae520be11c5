/**
 * A whole number of an option within bounds; anything else is added to the problems.
 *
 * @returns `otherwise` where the option was not given, or not well
 */
export function wholeNumber(
  values: ReadonlyMap<string, string>,
  name: string,
  [least, most]: readonly [number, number],
  otherwise: number,
  problems: string[],
): number {
  const text = values.get(name);
  if (text === undefined) return otherwise;
  const number = Number(text.replace(/(?<=\d)[ _](?=\d{3})/g, ""));
  if (/^\d/.test(text) && Number.isInteger(number) && number >= least && number <= most) return number;
  problems.push(`--${name} takes a whole number from ${least} to ${most}; received "${text.slice(0, 40)}".`);
  return otherwise;
}
