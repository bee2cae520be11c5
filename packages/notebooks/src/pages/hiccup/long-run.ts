import { endOf } from "@railfault/sim";
import { type HeatData, heatData, heatFigure } from "@railfault/sim/figures";
import { button, el, setText } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { Answer, RunRequest } from "../../run/protocol.ts";
import { figurePlace, progressView } from "../../show/index.ts";
import type { Background, LaneNow } from "./background.ts";
import { factsView } from "./facts.ts";
import { outcomeOf } from "./outcome.ts";
import { followed } from "./styles.ts";
import { hiccupRequest } from "./sweep.ts";
import { grouped, time, whole } from "./words.ts";

const LANE = "long";
/** Rows of waveforms kept while it runs, and handed over: drawing more takes longer and shows no more. */
const KEPT = 40_000;
const HANDED = 8000;
const MINUTE = 60;
/** A run longer than this is told in numbers only, its alike rounds worked out at once, s. */
const DRAWN = 10 * MINUTE;

/** The hiccup followed for longer: heat, fuse, dips; a minute or ten on request. */
export function longRun(background: Background) {
  let now: LineNow | null = null;
  let wanted: number | null = null;
  let shown: Answer | null = null;
  const progress = progressView(document, { stop: () => background.stop(LANE) });
  const heat = figurePlace<HeatData>(document, {
    label: "How hot the SCR gets",
    draw: heatFigure,
    reserve: (width) => (width < 620 ? 1.4 * width : 460),
    title: ({ title }) => title,
  });
  const facts = factsView(document);
  // Which part of a longer run the picture shows, where there is one that it does not show.
  const drawn = el(document, "p", { class: "aside", hidden: true });
  let until = "";
  const told = el(document, "p", { class: "aside", "aria-live": "polite" });

  const put = ({ found, busy, progress: at }: LaneNow): void => {
    heat.busy(busy);
    if (at !== null) progress.show(at.time, at.end);
    if (busy) return;
    progress.done();
    const each = found.get(LANE);
    if (each?.kind === "failed") setText(told, each.message);
    if (each?.kind !== "answer" || each.answer === shown) return;
    shown = each.answer;
    show(each.answer);
  };
  const show = (answer: Answer): void => {
    const { run, verdict } = answer;
    const reached = endOf(run) - run.scenario.faultTime;
    const least = now === null ? 0 : followed(now);
    const long = time(run.scenario.endTime - run.scenario.faultTime);
    const how = run.outcome.status === "stopped" ? "Stopped by hand" : "Computed";
    setText(told, whole(`${how}: ${long} after the fault, in ${grouped(run.work.steps)} steps.`));
    const enough = verdict.kind !== "verdict" || verdict.stoppedAt === null || reached >= least;
    facts.show(answer, outcomeOf(answer), enough);
    // Without waveforms the picture of the first moments stays, and says so.
    const without = run.trace.time.length === 0;
    drawn.hidden = !without || until === "";
    setText(drawn, `The picture shows the first ${until} only; what the ${long} came to is told in numbers.`);
    if (verdict.kind !== "verdict" || without) return;
    until = long;
    // Thousands of trips take a while to go through: a task of its own.
    setTimeout(() => {
      const data = answer === shown ? heatData(run, verdict) : null;
      if (data !== null) heat.show(data);
    });
  };
  const ask = (): void => {
    if (now === null) return;
    const line = now;
    const span = Math.max(followed(line), wanted ?? 0);
    const request = (): RunRequest | null => {
      const own = hiccupRequest(line, [], span);
      if (own === null) return null;
      return span > DRAWN ? { ...own, record: false } : { ...own, record: { most: KEPT }, rows: HANDED };
    };
    background.ask(LANE, `${span} ${line.text}`, [{ name: LANE, request }], put);
  };
  const follow = (minutes: number, label: string): HTMLElement =>
    button(document, {
      label,
      press: () => {
        wanted = minutes * MINUTE;
        ask();
      },
    });
  const controls = el(
    document,
    "div",
    { class: "long-run" },
    el(
      document,
      "div",
      { class: "row" },
      follow(1, "Follow it for a minute"),
      follow(10, "Follow it for ten minutes"),
      follow(60, "Follow it for an hour (no picture)"),
    ),
    progress.element,
    told,
  );
  return {
    controls,
    heat: el(document, "div", {}, drawn, heat.element),
    facts,
    /** The line as it stands; one that has changed is followed for a moment only, until somebody asks for more. */
    follow(next: LineNow): void {
      if (next.text !== now?.text) wanted = null;
      now = next;
      ask();
    },
    leave: () => heat.leave(),
  };
}
