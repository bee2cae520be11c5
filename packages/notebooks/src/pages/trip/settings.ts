import { readTripSettings, type TripSettings, type TripWishes } from "@railfault/sim";
import type { OpenedLine } from "../../line/open.ts";

/** Keys of the page's view; empty: as usual. */
export const tripViews = {
  threshold: "",
  resistors: "",
  coldest: "",
  hottest: "",
  chargeVoltage: "",
  compensation: "",
  pickup: "",
  ramp: "",
} as const;

/** What the page asks with; what an address says that nobody could choose here counts for nothing. */
export function settingsOf(opened: OpenedLine, more: TripWishes = {}): TripSettings {
  const keys = Object.keys(tripViews) as (keyof typeof tripViews)[];
  const wishes: Partial<Record<keyof TripSettings, string>> = {};
  for (const key of keys) {
    const text = opened.view(key);
    if (text !== "" && readTripSettings({ [key]: text }).settings !== null) wishes[key] = text;
  }
  const { settings } = readTripSettings({ ...wishes, ...more });
  const usual = settings ?? readTripSettings(more).settings;
  if (usual === null) throw new RangeError("the usual settings cannot be read");
  return usual;
}
