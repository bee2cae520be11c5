import type { TripWishes } from "@railfault/sim";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { studyView } from "./answer.ts";
import { settingsOf } from "./settings.ts";
import { Studies } from "./studies.ts";
import { changesView, studyTables } from "./tables.ts";

/** A lead battery that is charged in the cold, on whatever line is opened. */
const CHARGING: TripWishes = { chargeVoltage: "14.4 V", compensation: "20 mV" };

/** The page's two questions: the line with its settings, and the same line while a battery is charged in a cold winter. */
export function tripPage(opened: OpenedLine) {
  const studies = new Studies();
  const line = studyView(document, "Where the trip point belongs");
  const tables = studyTables(document);
  const changes = changesView(document, "What was tried to open a band");
  const cold = studyView(document, "While a battery is charged in the cold", true);
  const coldChanges = changesView(document, "What was tried to open a band in the cold", true);
  const ask = (now: LineNow): void => {
    if (now.parsed.scenario === null) return;
    const common = { text: now.text, file: `${now.title}.yaml` };
    studies.ask("line", { ...common, settings: settingsOf(opened) }, (study) => {
      line.show(study);
      tables.show(study);
      changes.show(study);
      if (study.busy === null) askCold(now);
    });
  };
  const askCold = (now: LineNow): void => {
    if (opened.line.now !== now) return;
    const question = { text: now.text, file: `${now.title}.yaml`, settings: settingsOf(opened, CHARGING) };
    studies.ask("cold", question, (study) => {
      cold.show(study);
      coldChanges.show(study);
    });
  };
  const unfollow = opened.line.follow(ask);
  return {
    answer: line.answer,
    figure: line.figure,
    ...tables,
    changes: changes.element,
    cold: { answer: cold.answer, figure: cold.figure, changes: coldChanges.element },
    leave(): void {
      unfollow();
      studies.leave();
      line.leave();
      cold.leave();
    },
  };
}
