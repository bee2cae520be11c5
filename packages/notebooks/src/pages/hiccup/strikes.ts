import { formatQuantity, type Scenario, type Source } from "@railfault/sim";
import { capital, listed, the } from "./words.ts";

const volts = (value: number): string => formatQuantity(value, "voltage");

/** What happens to a source at the instant of the fault; null: nothing. */
function strike(source: Source): string | null {
  if (source.kind === "battery") return null;
  const who = the(source.name);
  const { fault } = source;
  switch (fault.kind) {
    case "none":
      return null;
    case "lost feedback":
      return `${who} loses its feedback and would rise to ${volts(fault.ceilingVoltage)}`;
    case "voltage turned up":
      return `the voltage of ${who} is turned up to ${volts(fault.endVoltage)}`;
    case "shorted pass transistor":
      return `the pass transistor of ${who} fails short`;
    case "shorted controller":
      return `the controller of ${who} fails short`;
  }
}

/** Which fault strikes in a line, as a sentence. */
export function faultSentence({ sources }: Scenario): string {
  const strikes = sources.map(strike).filter((each) => each !== null);
  return strikes.length === 0 ? "No source of this line has a fault." : `${capital(listed(strikes))}.`;
}
