import {
  describeValue,
  pointAt,
  USUAL_WHATIF,
  type WhatIfOptions,
  whatIf,
  whatIfCsv,
  whatIfHeadline,
} from "@railfault/sim";
import { type PlaneData, planeData, planeFigure } from "@railfault/sim/figures";
import { button, choice, el, setText, textField } from "../../controls/index.ts";
import type { Path } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import { studyRunner } from "./study-runner.ts";

interface Offer {
  readonly label: string;
  readonly path: Path;
  readonly axis: string;
  /** A value on the axis, as a person writes it. */
  readonly example: string;
}

/** What people ask about first; each is offered where the line has such a value. */
const OFFERS: readonly Offer[] = [
  {
    label: "trip point, 14 to 17 V",
    path: ["crowbar", "trip voltage"],
    axis: "crowbar.trip voltage: 14…17 V",
    example: "15.2 V",
  },
  {
    label: "sense filter, 5 to 500 µs",
    path: ["crowbar", "sense filter"],
    axis: "crowbar.sense filter: 5…500 us by decades",
    example: "30 µs",
  },
  {
    label: "supply’s current limit, 5 to 60 A",
    path: ["sources", 0, "limit", "current"],
    axis: "sources[0].limit.current: 5…60 A",
    example: "20 A",
  },
  {
    label: "fault’s slew, 0.2 to 50 V/ms",
    path: ["sources", 0, "fault", "slew"],
    axis: "sources[0].fault.slew: 0.2…50 V/ms by decades",
    example: "5 V/ms",
  },
  {
    label: "radio’s input capacitance, 0.2 to 10 mF",
    path: ["loads", 0, "input capacitance"],
    axis: "loads[0].input capacitance: 0.2…10 mF by decades",
    example: "2 mF",
  },
  { label: "ambient, −20 to 50 °C", path: ["ambient"], axis: "ambient: -20…50 °C", example: "25 °C" },
];

const offered = ({ parsed }: LineNow): readonly Offer[] => {
  const found = OFFERS.filter(({ path }) => typeof describeValue(parsed, path)?.value === "number");
  return found.length < 2 ? OFFERS.slice(0, 2) : found;
};

const pointOn = (...axes: readonly string[]): string =>
  axes.map((axis) => OFFERS.find((each) => each.axis === axis)?.example ?? "").join(", ");

/** A plane of two values of the line in hand, drawn when asked for. */
export function planeBench(opened: OpenedLine) {
  const answer = el(document, "p", { class: "verdict-headline", role: "status" }, "Not drawn yet.");
  const problems = issuesView(document);
  let csv: (() => Iterable<string>) | null = null;
  const place = figurePlace<PlaneData>(document, {
    label: "What if",
    title: ({ title }) => title,
    draw: planeFigure,
    csv: () => csv?.() ?? [],
    reserve: (width) => (width < 620 ? 640 : 540),
  });
  // Nothing is drawn before somebody asks for it.
  place.element.hidden = true;
  const options = (now: LineNow) => offered(now).map(({ label, axis }) => ({ value: axis, label }));
  const [first, second] = options(opened.line.now);
  const menu = (label: string, value: string) =>
    choice(document, { label, as: "menu", options: options(opened.line.now), value });
  const x = menu("To the right", first.value);
  const y = menu("Upwards", second.value);
  const asked = (): WhatIfOptions => ({ x: x.value, y: y.value, ...USUAL_WHATIF });
  const runner = studyRunner({
    label: "Draw the plane",
    name: "Plane",
    press: () => {
      const { text, title } = opened.line.now;
      void runner.start(async (crew, hooks) => {
        const found = await whatIf(text, `${title}.yaml`, asked(), crew, hooks);
        problems.show(found.kind === "refused" ? found.issues : []);
        if (found.kind === "refused") return;
        csv = () => whatIfCsv(found.study);
        setText(answer, whatIfHeadline(found.study));
        place.element.hidden = false;
        place.show(planeData(found.study));
      });
    },
    busy: place.busy,
  });
  const at = textField(document, {
    label: "A point of the plane",
    value: pointOn(x.value, y.value),
    help: "Its two values with their units, the one to the right first.",
  });
  const open = button(document, {
    label: "Open this point",
    press: () => {
      const { text, title } = opened.line.now;
      const point = pointAt(text, `${title}.yaml`, asked(), at.value);
      problems.show(typeof point === "string" ? [] : point);
      if (typeof point === "string") opened.line.open({ kind: "own", name: at.value, text: point });
    },
  });
  let given = at.value;
  // As long as nobody wrote a point of their own, it lies on the axes that are chosen.
  const fit = (): void => {
    if (at.value !== given) return;
    given = pointOn(x.value, y.value);
    at.value = given;
  };
  for (const control of [x, y]) control.addEventListener("input", fit);
  const stop = opened.line.follow((now) => {
    const list = options(now);
    for (const [k, control] of [x, y].entries()) {
      const kept = list.some(({ value }) => value === control.value) ? control.value : list[k].value;
      control.update({ options: list, value: kept });
    }
    fit();
  });
  return {
    controls: [x, y, runner.element, at, open],
    answer: el(document, "section", { class: "verdict", "aria-label": "What if" }, answer, problems.element),
    figure: place.element,
    leave(): void {
      stop();
      runner.cancel();
      place.leave();
    },
  };
}
