import { describeValue, endOf, formatQuantity, parseScenario, type Run } from "@railfault/sim";
import { figureData } from "@railfault/sim/figures";
import { el, setText, toggle } from "../../controls/index.ts";
import type { Change, Path } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { Scheme } from "../../line/runs.ts";
import { shippedLine } from "../../line/shipped.ts";
import type { Answer } from "../../run/protocol.ts";
import { faultView, verdictView } from "../../show/index.ts";
import { within } from "../../show/windows.ts";
import { unbroken } from "../../show/words.ts";
import { runProgress } from "../regulator-fails/run-progress.ts";
import { withSigns } from "./clock.ts";
import { inRange, type ViewRangeOptions, viewRange } from "./view-range.ts";

const NAME = "20-battery-terminal-falls-off";

/** A value of this line that has a slider: where it stands, and the slider. */
interface FallValue extends Omit<ViewRangeOptions, "usual"> {
  readonly path: Path;
}

/** Keys of the page's view for this line. */
export const fallViews = { trip: "", response: "", capacitance: "", bare: "" } as const;

/** As far as chargers go: beyond these the sum of the charger's current and its lateness would be hundreds of volts, which none survives. */
const VALUES: readonly FallValue[] = [
  {
    path: ["series switch", "off voltage"],
    key: "trip",
    label: "Series switch opens above",
    dimension: "voltage",
    min: 14.7,
    max: 16,
    step: 0.1,
  },
  {
    path: ["sources", 0, "response time"],
    key: "response",
    label: "Charger’s response time",
    help: "How long its regulator needs to notice that nobody takes the current any more.",
    dimension: "time",
    min: 1e-4,
    max: 3e-3,
  },
  {
    path: ["sources", 0, "output capacitance"],
    key: "capacitance",
    label: "Charger’s output capacitance",
    help: "What takes the current meanwhile.",
    dimension: "capacitance",
    min: 2.2e-3,
    max: 2.2e-2,
  },
];

function changesOf({ state }: LineNow): readonly Change[] {
  const moved = VALUES.flatMap(({ path, ...value }): readonly Change[] => {
    const text = state.view[value.key] ?? "";
    return inRange(value, text) === null ? [] : [[path, text]];
  });
  // Without the switch its trip voltage has no place.
  return state.view.bare === "yes"
    ? [...moved.filter(([path]) => path[0] !== "series switch"), [["series switch"], null]]
    : moved;
}

/** The line of the terminal that falls off, beside the page's own. */
export const fallScheme: Scheme = {
  name: "fall",
  label: "Battery terminal falls off while charging",
  text: shippedLine(NAME).text,
  after: "line",
  changes: changesOf,
};

/** What is turned on this line. */
export function fallControls(opened: OpenedLine): readonly HTMLElement[] {
  const bare = toggle(document, {
    label: "Without the series switch",
    value: opened.view("bare") === "yes",
    help: "What the radio sees when nothing stands before it.",
  });
  bare.addEventListener("input", () => opened.look({ bare: bare.value ? "yes" : "" }));
  const asShipped = parseScenario(shippedLine(NAME).text, `${NAME}.yaml`);
  const ranges = VALUES.map((value) => {
    const described = describeValue(asShipped, value.path);
    const usual = typeof described?.value === "number" ? described.value : value.min;
    return viewRange(opened, { ...value, usual: () => ({ value: usual, source: "from the line’s file" }) });
  });
  opened.line.follow((now) => {
    bare.value = now.state.view.bare === "yes";
    ranges[0].update({ disabled: bare.value });
  });
  return [...ranges, bare];
}

/** Verdict and pictures of this line. */
export function fallView(opened: OpenedLine) {
  const answer = verdictView(document, { parts: "answer", label: "Verdict on the terminal that falls off" });
  const rest = verdictView(document, { parts: "rest", label: "Verdict on the terminal that falls off, in detail" });
  const problem = el(document, "p", { class: "aside", role: "alert", hidden: true });
  const progress = runProgress(opened, ["fall"]);
  let shown: Answer | null = null;
  const seen = faultView(document, {
    label: "What the radio sees when the terminal falls off",
    panels: ["voltage", "states"],
    closePanels: ["voltage", "current"],
    first: (data) => {
      const range = shown === null ? null : aroundFall(shown.run);
      return range && within(data, range);
    },
  });
  const stop = opened.runs((runs) => {
    const run = runs.get("fall");
    if (run === undefined) return;
    answer.busy(run.status === "running");
    seen.busy(run.status === "running");
    problem.hidden = run.status !== "refused" && run.status !== "failed";
    setText(problem, run.message ?? run.issues.map(({ message }) => message).join(" "));
    if (run.answer === null || run.answer === shown) return;
    shown = run.answer;
    answer.show(shown.verdict);
    rest.show(shown.verdict);
    // No source of this line fails: as in the verdict, all times are counted from the start.
    seen.show(withSigns(figureData(shown.run, shown.verdict), shown.run));
  });
  return {
    answer: el(document, "div", { "data-own-line": true }, answer.element, problem),
    figures: el(
      document,
      "div",
      { "data-own-line": true },
      el(document, "div", { class: "bench-head" }, progress.element),
      seen.element,
    ),
    rest: el(document, "details", { class: "more" }, el(document, "summary", {}, "More on this run"), rest.element),
    leave() {
      stop();
      progress.leave();
      seen.leave();
    },
  };
}

/** A charger needs a few milliseconds to notice; shown where no switch acts, s. */
const NOTICED = 3e-3;

/** From shortly before the terminal falls off until the switch has acted. The run's events suggest the arc of the terminal, which is over at once. */
export function aroundFall(run: Run): readonly [from: number, to: number] | null {
  const fall = run.events.find(({ kind }) => kind === "contact opens")?.time;
  if (fall === undefined) return null;
  const act = run.events.find(({ kind, time }) => kind === "starts to open" && time > fall)?.time ?? fall + NOTICED;
  const delay = act - fall;
  return [fall - 0.5 * delay, act + 3 * delay];
}

/** How high the charger went and how often the switch acted, as a sentence. */
export function fallStory({ run }: Answer): string {
  const charger = run.sources[0];
  const opens = run.seriesSwitch?.starts.length ?? 0;
  const load = run.loads[0];
  const volts = (value: number): string => formatQuantity(value, "voltage");
  const highest = `The charger overshoots to ${volts(charger.peak.value)}; the radio sees ${volts(load.peak.value)} at most.`;
  if (run.seriesSwitch === null) return unbroken(`${highest} Nothing stands between them.`);
  const times = opens === 0 ? "never opens" : opens === 1 ? "opens once" : `opens ${opens} times`;
  const seconds = formatQuantity(endOf(run), "time");
  const dark = formatQuantity(load.belowMinimum.total, "time");
  return unbroken(
    `${highest} In the ${seconds} of this run the switch ${times}; the radio is below its minimum for ${dark} of them.`,
  );
}
