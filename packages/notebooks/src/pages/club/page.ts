import type { OpenedLine } from "../../line/open.ts";
import { talkLists } from "./list.ts";
import { talkOutline } from "./outline.ts";
import { talkStage } from "./stage.ts";
import { talkFiles, talkSheets } from "./take-away.ts";
import { Talk } from "./talk.ts";

/** A talk that is being made, in parts that a page places where it wants them. */
export function clubPage(opened: OpenedLine) {
  const talk = new Talk(opened);
  const lists = talkLists(talk);
  const stage = talkStage(talk);
  const outline = talkOutline(talk);
  const sheets = talkSheets(talk);
  return {
    lists: lists.elements,
    stage: stage.element,
    words: stage.words,
    outline: outline.element,
    files: talkFiles(talk),
    sheets: sheets.element,
    leave(): void {
      for (const part of [lists, stage, outline, sheets, talk]) part.leave();
    },
  };
}
