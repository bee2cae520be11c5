import type { CaptureLimits, LayoutCorrections } from "@railfault/sim";
import { el } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { OtherFiles } from "../../line/work-bar/index.ts";
import { captureThread } from "../../run/capture-thread.ts";
import { againstView } from "./against.ts";
import { demoCaptures, demoFile } from "./demos.ts";
import { judgedView } from "./judged.ts";
import { layoutForm } from "./layout-form.ts";
import { OWN, sourceView } from "./source.ts";
import { problemOf } from "./written.ts";

/** What is looked at: a capture that comes with the pages (`own`: a file that only its owner has), limits, and how it is held against the line. */
export const captureViews = {
  demo: "hiccup",
  limits: "11.7…15.9 V",
  align: "threshold",
  zero: "0.01",
  free: "crowbar.trip voltage; sources[0].limit.off time",
};

/** Files that are dropped anywhere on the page: what is no scenario is a capture. */
export function captureDrops(): OtherFiles & { into(take: (file: File) => void, other: () => void): void } {
  let takes: ((file: File) => void) | null = null;
  let passes: (() => void) | null = null;
  return {
    hint: "Drop the file: a table is read as a capture, a .yaml file is opened as the line in hand.",
    take(file) {
      if (takes === null || /\.ya?ml$/i.test(file.name)) {
        passes?.();
        return false;
      }
      takes(file);
      return true;
    },
    into(take, other) {
      takes = take;
      passes = other;
    },
  };
}

/** The capture in hand, judged and held against the line; each part is placed where the page wants it. */
export function captureBench(opened: OpenedLine, drops: ReturnType<typeof captureDrops>) {
  const thread = captureThread();
  let file: File | null = null;
  /** Of the file at hand: the name of one that comes with the pages, or that it is a person's own. */
  let origin = opened.view("demo");
  let corrected: LayoutCorrections = {};
  /** A file that could not be read so far: corrections are about that. */
  let refused: { readonly file: File; readonly from: string } | null = null;
  let inHand: Parameters<typeof form.show> | null = null;
  const source = sourceView({
    demo: opened.view("demo"),
    take: (chosen) => take(chosen),
    open: (demo) => void openDemo(demo, true),
    stop: () => thread.stop(),
  });
  const judged = judgedView({
    limits: opened.view("limits"),
    judge: (limits, written) => {
      opened.look({ limits: written });
      void askAgain({ kind: "judge", limits });
    },
    part: (from, to) => void askAgain({ kind: "part", from, to }),
  });
  const form = layoutForm({
    again: (corrections) => {
      const about = refused ?? (file === null ? null : { file, from: origin });
      if (about !== null) void read(about.file, corrections, judged.limits, about.from);
    },
    leave: () => {
      refused = null;
      if (inHand !== null) form.show(...inHand);
      source.tell("", []);
    },
  });
  const against = againstView(opened, thread);

  const take = (chosen: File): void => void read(chosen, {}, judged.limits, OWN);
  const openDemo = async (name: string, chosen = false): Promise<void> => {
    const demo = demoCaptures.find((each) => each.name === name);
    if (demo === undefined) return;
    // The line that it was made from, unless a person has put another one in hand.
    const { line, changes } = opened.line.now.state;
    const isDemo =
      line.kind === "shipped" && changes.length === 0 && demoCaptures.some((each) => each.line === line.name);
    if (chosen && isDemo && line.name !== demo.line) opened.line.open({ kind: "shipped", name: demo.line });
    await read(await demoFile(demo), {}, judged.limits, name);
  };
  const read = async (chosen: File, corrections: LayoutCorrections, limits: CaptureLimits, from: string) => {
    judged.busy(true);
    against.hold();
    source.progress.begin();
    const question = { kind: "read", file: chosen, name: chosen.name, corrections, limits } as const;
    const answer = await thread.ask(question, source.progress.show);
    if (answer.kind === "superseded") return;
    source.progress.done();
    judged.busy(false);
    if (answer.kind === "failed" || answer.kind === "stopped") {
      const message = answer.kind === "failed" ? answer.message : "It was stopped.";
      source.tell(`“${chosen.name}” was not read${stays()}`, [problemOf(message)]);
      source.from(origin);
      nothing();
      return;
    }
    if (answer.kind !== "read") return;
    const { status, layout, understood, issues, judged: of } = answer.read;
    if (of === null || layout === null) {
      const title = status === "stopped" ? "The reading was cancelled" : `“${chosen.name}” was not read`;
      const listed = issues.length > 0 ? issues : [problemOf("It was cancelled before its end.")];
      const further = layout === null ? "" : ". How it is read can be corrected further down";
      source.tell(`${title}${stays()}${further}`, listed, [...understood]);
      refused = { file: chosen, from };
      form.show(layout, understood, chosen.name, file?.name ?? null);
      source.from(origin);
      nothing();
      return;
    }
    held(chosen, from);
    refused = null;
    source.from(from);
    corrected = corrections;
    source.tell("Noticed while reading", issues);
    source.called(`In hand: ${chosen.name}`);
    inHand = [layout, understood];
    form.show(...inHand);
    judged.show(of);
    against.show(of.judgement);
  };
  // What was refused is not what is shown: list and address go on naming that.
  const held = (chosen: File, from: string): void => {
    file = chosen;
    origin = from;
    opened.look({ demo: from });
  };
  const stays = (): string => (file === null ? "" : "; what stood here before stays");
  const nothing = (): void => {
    judged.empty("Choose a file above, or one of the synthetic captures.");
    against.none("There is no capture to hold against the line.");
  };
  const askAgain = async (question: Parameters<typeof thread.ask>[0]): Promise<void> => {
    if (file === null) return;
    judged.busy(true);
    const answer = await thread.ask(question);
    if (answer.kind === "superseded") return;
    judged.busy(false);
    if (answer.kind === "judged") {
      judged.show(answer.judged);
      if (question.kind === "judge") against.show(answer.judged.judgement);
      else against.resume();
      return;
    }
    // A thread that broke down has forgotten the capture; the file is still at hand.
    if (answer.kind === "failed") await read(file, corrected, judged.limits, origin);
  };
  // What stands there of an earlier file would be read as said of this one.
  drops.into(take, () => source.tell("", []));
  if (opened.view("demo") === OWN) {
    nothing();
    source.called("A file that is chosen stays on its disk: choose it again.");
  } else void openDemo(demoCaptures.some(({ name }) => name === opened.view("demo")) ? opened.view("demo") : "hiccup");

  return {
    source: source.controls,
    name: source.name,
    progress: source.progress.element,
    problems: source.problems,
    answer: judged.answer,
    table: judged.table,
    sentences: judged.sentences,
    limits: judged.controls[0],
    part: el(document, "div", { class: "capture-part" }, judged.controls[1], judged.controls[2]),
    picture: judged.picture,
    form: form.element,
    against,
    leave(): void {
      thread.dispose();
      judged.leave();
      against.leave();
    },
  };
}
