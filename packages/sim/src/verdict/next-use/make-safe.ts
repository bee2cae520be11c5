import type { Run } from "../../model/result.ts";
import type { Source } from "../../scenario/types.ts";
import { barsOf } from "../crowbar.ts";
import { isBeyond } from "../exit-status.ts";
import { isEndless } from "../pending.ts";
import type { Finding, Pending } from "../types.ts";
import { capital, show, the } from "../words.ts";
import { type Step, step } from "./order.ts";
import { feedingBatteries, flowsAtEnd } from "./still-flows.ts";

/** Before anybody touches the line. The order and its rules are common practice, no source. */
export function makeSafe(run: Run, findings: readonly Finding[], pending: readonly Pending[]): readonly Step[] {
  const { sources } = run.scenario;
  return [
    ...keepClear(run, findings),
    ...gas(run, findings),
    ...off(run, pending),
    ...sources
      .filter(isPanel)
      .map(({ name }) =>
        step("switch off", `Cut ${the(name)} off at its own disconnect, or cover it: daylight keeps it live.`),
      ),
    ...disconnect(run),
    step("measure", "Wait, and measure 0 V on every conductor before you touch it: capacitors stay charged."),
  ];
}

const isBattery = ({ kind }: Source): boolean => kind === "battery";
const isPanel = ({ kind }: Source): boolean => kind === "panel";

/** All names in one: `the hut battery and the spare battery`. */
const together = (names: readonly string[]): string => names.map(the).join(" and ");

function keepClear(run: Run, findings: readonly Finding[]): readonly Step[] {
  const fed = feedingBatteries(run);
  const burns = findings.some(({ hazard }) => hazard === "fire");
  const [most] = flowsAtEnd(run).toSorted((a, b) => b.current - a.current);
  if (fed.length === 0 || most === undefined)
    return burns ? [step("keep clear", "Where anything smokes or burns, leave and call the fire service.")] : [];
  const supplies = run.scenario.sources.filter(({ kind }) => kind === "supply").map(({ name }) => name);
  return [
    step(
      "keep clear",
      `Keep everybody away: ${together(fed)} still ${fed.length === 1 ? "feeds" : "feed"} ${show(most.current, "current")} into ${most.through}.${burns ? " Where it smokes or burns, leave and call the fire service." : ""}`,
    ),
    ...(supplies.length === 0
      ? []
      : [step("keep clear", `Switch ${together(supplies)} off only from afar, as at the mains.`)]),
    step(
      "keep clear",
      `Break the current of ${together(fed)} only at a disconnect made to break it; this line shows none. Never pull a terminal or a fuse: the arc goes on burning. Without one stay away until it has run down.`,
    ),
  ];
}

/** A battery that was charged beyond full gives off hydrogen and oxygen: no switch is worked in that (common practice, no source). */
function gas(run: Run, findings: readonly Finding[]): readonly Step[] {
  const gassing = run.scenario.sources.filter(
    (source, k) =>
      isBattery(source) &&
      (run.sources[k].charge?.highest ?? 0) > 1 &&
      findings.some((finding) => finding.subject === source.name && isBeyond(finding)),
  );
  if (gassing.length === 0) return [];
  const names = together(gassing.map(({ name }) => name));
  return [
    step(
      "air",
      `${feedingBatteries(run).length === 0 ? "Air" : "Once it has ended, air"} the room before anything in it is switched: ${names} may have given off explosive gas.`,
    ),
  ];
}

function off(run: Run, pending: readonly Pending[]): readonly Step[] {
  const switched = run.scenario.sources.filter((source) => !isBattery(source) && !isPanel(source));
  if (switched.length === 0) return [step("switch off", "Switch every load off.")];
  const endless = pending.some(isEndless);
  const why = endless ? ": what goes on here does not end by itself" : conducting(run);
  const back = run.sources.filter(({ stateAtEnd }) => stateAtEnd === "off").map(({ name }) => name);
  const alive = back.length === 0 ? "" : ` ${capital(together(back))} only ${back.length === 1 ? "pauses" : "pause"}.`;
  return [step("switch off", `Switch every source off, then every load${why}.${alive}`)];
}

function conducting(run: Run): string {
  const [bar] = barsOf(run).filter(
    ({ found }) => found.conductingAtEnd && !found.failedShort && found.cycling === null,
  );
  return bar === undefined ? "" : `: ${the(bar.subject)} still conducts and lets go only then`;
}

function disconnect(run: Run): readonly Step[] {
  const fed = feedingBatteries(run);
  const batteries = run.scenario.sources.filter(isBattery).map(({ name }) => name);
  const stays = (names: readonly string[]): string => (names.length === 1 ? "it stays" : "they stay");
  if (batteries.length === 0) return [];
  return [
    step(
      "disconnect",
      `Disconnect ${together(batteries)}${fed.length === 0 ? "" : " once no current flows"}, minus first, before working on the line: ${stays(batteries)} live.`,
    ),
  ];
}
