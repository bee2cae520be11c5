import { el } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { createRunner } from "../../run/runner.ts";
import { Background, type LaneNow } from "./background.ts";
import { longRun } from "./long-run.ts";
import { remedyCards, remedyTasks } from "./remedies.ts";
import { settling } from "./settling.ts";
import { stripView } from "./strip.ts";
import { spanOf } from "./styles.ts";
import { variedSupply } from "./supply.ts";
import { rungsFound, type Sweep, sweeps, sweepTasks } from "./sweep.ts";
import { fullTasks } from "./watching.ts";

/** Everything of the page that may come a moment later: sweeps, the long run, what makes it stop. */
export function later(
  opened: OpenedLine,
  five: {
    readonly painted: () => Promise<void> | null;
    readonly foundInFull: (text: string, lane: LaneNow) => void;
  },
) {
  // A thread of its own, so that sliders never wait behind a sweep; where cores are few, it lets the five pictures go first.
  const runner = createRunner({ workers: 1 });
  const inFull = new Background(runner, undefined, five.painted);
  // How the five end is what the page is asked first.
  const told = settling();
  const background = new Background(runner, undefined, () => five.painted() ?? told.wait());
  const strips = sweeps.map((sweep) => ({ sweep, view: stripView(document, sweep) }));
  const long = longRun(background);
  const remedies = remedyCards();
  const fuses = sweeps[0];

  const askFull = (now: LineNow): void => {
    inFull.ask("styles", now.text, variedSupply(now) === null ? [] : fullTasks(now), (lane) => {
      if (lane.busy) told.busy();
      else told.settled(told.now());
      five.foundInFull(now.text, lane);
    });
  };
  const askRemedies = (now: LineNow, { found }: LaneNow): void => {
    const tasks = remedyTasks(now, rungsFound(fuses, now, found));
    background.ask("remedies", lineKey(now), tasks, (lane) => remedies.show(lane.found, lane.busy, now));
  };
  const askSweep = (now: LineNow, sweep: Sweep, view: ReturnType<typeof stripView>): void => {
    background.ask(sweep.name, now.text, sweepTasks(sweep, now), (lane) => {
      if (lane.found.size === 0 && lane.busy) view.busy();
      else view.show(rungsFound(sweep, now, lane.found), lane.busy);
      if (sweep !== fuses) return;
      fuseLane = lane;
      if (!lane.busy) askRemedies(opened.line.now, lane);
    });
  };
  let fuseLane: LaneNow | null = null;
  const unfollow = opened.line.follow((now) => {
    if (now.parsed.scenario === null) return;
    askFull(now);
    long.follow(now);
    for (const { sweep, view } of strips) askSweep(now, sweep, view);
    // The remedies wait for the fuses; another span of time only shows them for longer.
    if (fuseLane?.busy === false) askRemedies(now, fuseLane);
    else background.drop("remedies");
  });
  return {
    strips: el(document, "div", { class: "strips" }, ...strips.map(({ view }) => view.element)),
    long,
    remedies: remedies.element,
    leave(): void {
      unfollow();
      inFull.leave();
      background.leave();
      long.leave();
      remedies.leave();
    },
  };
}

/** Two lines with the same key are run alike. */
function lineKey(now: LineNow): string {
  return `${spanOf(now)} ${now.text}`;
}
