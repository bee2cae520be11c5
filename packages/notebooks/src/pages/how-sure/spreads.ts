import type { Change } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";

const TRIP = ["tolerances", "crowbar.trip voltage"] as const;

/** What the trip point may be made with, the coarsest first. */
export const devices = ["shunt reference 2 %", "shunt reference 1 %", "shunt reference 0.5 %"] as const;

/** The spread of the trip point as a change of the line. */
export const tripSpread = (device: string): readonly Change[] => [[[...TRIP], `grade ${device}`]];

/** Which of the devices the line has; null where its spread is another one, or none. */
export function deviceOf({ parsed }: LineNow): string | null {
  const spread = parsed.spreads.find(({ label }) => label === "crowbar: trip voltage");
  return devices.find((device) => spread?.written === `grade ${device}`) ?? null;
}

/** Spreads for a line that has none: the trip point and the temperature. */
export function usualSpreads({ parsed }: LineNow): readonly Change[] {
  const trips = parsed.scenario?.crowbar === null ? [] : tripSpread(devices[0]);
  const ambient = parsed.scenario?.ambient ?? 25;
  const range = ambient >= -20 && ambient <= 50 ? "-20…50 °C" : "±20 K";
  return [[["tolerances", "ambient"], range], ...trips];
}
