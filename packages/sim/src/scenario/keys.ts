// Where the mechanical translation of a field's name would not give the trade's word.
const exceptions: Readonly<Record<string, string>> = {
  faultTime: "fault at",
  endTime: "run for",
  shutdown: "own OVP",
  capacityAh: "capacity",
  copperArea: "area",
  nominalMeltingI2t: "melting I2t",
  i2t: "I2t",
  meltingI2t: "melting I2t",
  senseTimeConstant: "sense filter",
  gateDelay: "turn on delay",
};

/**
 * The key that stands in a file for a field of the complete scenario: its words in lower case with single spaces
 * (`setVoltage` is `set voltage`), but for the few exceptions above.
 */
export function keyOf(field: string): string {
  return exceptions[field] ?? field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

/** A place in the input: keys as they stand in the file, and indices of lists. */
export type Path = readonly (string | number)[];

/** `sources[0].lead.length`. */
export function pathText(path: Path): string {
  return path.reduce<string>((text, step) => {
    if (typeof step === "number") return `${text}[${step}]`;
    return text === "" ? step : `${text}.${step}`;
  }, "");
}
