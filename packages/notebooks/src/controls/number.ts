/** Number to text: up to four digits and the unit. */
export function defaultFormat(unit: string | undefined): (value: number) => string {
  return (value) => `${Number(value.toPrecision(4))}${unit === undefined || unit === "" ? "" : `\u00a0${unit}`}`;
}

/** Text to number: a decimal number, with or without the unit behind it. */
export function defaultParse(unit: string | undefined): (text: string) => number {
  return (text) => {
    if (text.includes(",")) throw new Error("Numbers take a decimal point.");
    const match = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)\s*(.*)$/is.exec(text.trim());
    if (match === null) throw new Error("This is no number.");
    const [, number, rest] = match;
    if (rest !== "" && rest !== unit) throw new Error(unit ? `The unit here is ${unit}.` : "No unit belongs here.");
    return Number(number);
  };
}
