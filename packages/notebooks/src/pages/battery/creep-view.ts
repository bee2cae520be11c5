import { formatQuantity } from "@railfault/sim";
import { figureData, type HeatData, heatData, heatFigure, sharedAxes } from "@railfault/sim/figures";
import { button, el, setText } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { Answer } from "../../run/protocol.ts";
import { faultView, figurePlace } from "../../show/index.ts";
import { unbroken } from "../../show/words.ts";
import { protectionOf } from "../regulator-fails/compare.ts";
import { firstAct } from "../regulator-fails/first-act.ts";
import { creepOf, firstFiring, fromTrip, inWords, usualLimit, withoutTrip, withSigns } from "./clock.ts";
import { ofBattery, wordOf } from "./part-of-line.ts";
import { type ViewRangeOptions, viewRange, viewValue } from "./view-range.ts";

/** From here on the time after the trip is drawn, s: the SCR's current has just begun to rise. */
const FIRST = 1e-6;
/** Share of the picture that the hours before the trip take. */
const HOURS = 0.3;

/** The hours of creep and the microseconds of the trip on one axis, and a close-up on the trip. */
export function creepPictures() {
  const seen = faultView(document, {
    label: "From hours to microseconds",
    // Each voltage and current keeps its own scale: the battery's few amperes count as much as the SCR's hundreds.
    axes: (data) => ({
      ...sharedAxes([data]),
      voltage: null,
      current: null,
      ...(data.zero === "trip" ? { firstDelay: FIRST, leadIn: HOURS } : {}),
    }),
  });
  return {
    element: seen.element,
    busy: seen.busy,
    leave: seen.leave,
    show: ({ run, verdict }: Answer): void => seen.show(withSigns(fromTrip(figureData(run, verdict), run), run)),
  };
}

/** How hot the SCR grows while the charger holds it on. */
export function heatPicture() {
  const place = figurePlace<HeatData>(document, {
    label: "How hot the SCR grows",
    title: ({ title }) => `${title}, heat`,
    reserve: (width) => (width < 620 ? 1.2 * width : 400),
    draw: (data, drawing) => heatFigure(data, { ...drawing, timeScale: "logarithmic" }),
  });
  const nothing = el(
    document,
    "p",
    { class: "aside", hidden: true },
    "Nothing trips in this run, so nothing gets hot.",
  );
  return {
    element: el(document, "div", {}, place.element, nothing),
    leave: place.leave,
    show({ run, verdict }: Answer): void {
      const trip = firstFiring(run);
      const data = trip === null || verdict.kind !== "verdict" ? null : heatData(run, verdict);
      place.element.hidden = data === null;
      nothing.hidden = data !== null;
      if (data !== null && trip !== null) place.show({ ...data, faultTime: trip, zero: "trip" });
    },
  };
}

const LIMIT: ViewRangeOptions = {
  key: "limit",
  label: "The battery’s own charge limit",
  help: "As its label says; often lower when it is warm.",
  dimension: "voltage",
  min: 13.5,
  max: 16,
  step: 0.1,
  usual: (now: LineNow) => {
    const { volts, source } = usualLimit(wordOf(now, ofBattery("part")(now)));
    return { value: volts, source };
  },
};

/** A slider for what the battery's label allows. */
export const limitControl = (opened: OpenedLine) => viewRange(opened, LIMIT);

/** How many times as long one watches when nothing tripped. */
const LONGER = 4;
const LONGEST = 48 * 3600;

/** How long one has, in hours and minutes. */
export function clockView(opened: OpenedLine) {
  const trip = el(document, "p", { class: "clock-trip" });
  const rows = el(document, "dl", { class: "place-facts" });
  const longer = button(document, { label: "Watch longer", press: () => watchLonger(opened) });
  let last: Answer | null = null;
  const show = (): void => {
    if (last === null) return;
    const limit = viewValue(opened, LIMIT);
    const creep = creepOf(last, limit);
    if (creep === null) {
      setText(trip, "There is no battery on this line.");
      rows.replaceChildren();
      longer.hidden = true;
      return;
    }
    const { untilTrip, watched, aboveLimit, beyondFull, full, battery, warning } = creep;
    const nothing = withoutTrip(last.run, watched);
    setText(trip, unbroken(untilTrip === null ? nothing : `${inWords(untilTrip)} from the first creep to the trip.`));
    const waits = untilTrip === null && firstAct(last.run) === null && protectionOf(last.run.scenario) !== null;
    longer.hidden = !waits || watched >= LONGEST * 0.99;
    const volts = formatQuantity(limit, "voltage");
    const facts: readonly (readonly [string, string])[] = [
      [`The ${battery} above ${volts}`, aboveLimit > 0 ? inWords(aboveLimit) : "never"],
      [
        full > 1 ? `Pushed in beyond the ${formatQuantity(full, "ratio")} it began with` : "Pushed in beyond full",
        formatQuantity(beyondFull, "charge"),
      ],
      ...(warning === null ? [] : [["What the verdict says", warning] as const]),
    ];
    rows.replaceChildren(
      ...facts.flatMap(([name, text]) => [el(document, "dt", {}, name), el(document, "dd", {}, unbroken(text))]),
    );
  };
  const stop = opened.line.follow(show);
  return {
    element: el(document, "div", { class: "clock" }, trip, rows, longer),
    leave: stop,
    show(answer: Answer): void {
      last = answer;
      show();
    },
  };
}

function watchLonger({ line }: OpenedLine): void {
  const present = line.now.parsed.scenario?.endTime ?? 0;
  const hours = Math.round(Math.min(LONGEST, LONGER * present) / 3600);
  line.set(`Watched for: ${hours} h`, [[["run for"], `${hours} h`]]);
}
