import {
  beyondInShort,
  type CaptureJudgement,
  type CaptureLimits,
  captureHeadline,
  channelSentences,
  extremeText,
  formatQuantity,
  judgementCsv,
  tripsInShort,
} from "@railfault/sim";
import { type CaptureFigureData, captureFigure } from "@railfault/sim/figures";
import { button, el, setText, textField } from "../../controls/index.ts";
import type { CaptureJudged } from "../../run/capture-protocol.ts";
import { figurePlace } from "../../show/index.ts";
import { tableView } from "./tables.ts";
import { readLimits, readPart } from "./written.ts";

export interface JudgedOptions {
  readonly limits: string;
  /** The limits were changed. */
  readonly judge: (limits: CaptureLimits, written: string) => void;
  /** Another part of the capture is wanted, s as recorded; null: from its beginning, to its end. */
  readonly part: (from: number | null, to: number | null) => void;
}

/** What a capture shows by itself: answer with its uncertainty, figures, picture. */
export function judgedView(options: JudgedOptions) {
  const tag = el(document, "strong", { class: "verdict-tag" }, "…");
  const headline = el(document, "p", { class: "verdict-headline" }, "The capture is being read …");
  const line = el(document, "div", { class: "verdict-line", role: "status" }, tag, headline);
  const answer = el(
    document,
    "section",
    { class: "verdict capture-answer", "data-tone": "none", "aria-label": "What the capture shows" },
    line,
  );
  const table = tableView("Figures of the capture", [
    "Channel",
    "Highest",
    "Lowest",
    "Beyond a limit",
    "Trips",
    "Noise, steps",
  ]);
  const sentences = el(document, "div", { class: "capture-channels" });
  let shown: CaptureJudgement | null = null;
  const picture = figurePlace<CaptureFigureData>(document, {
    label: "The capture",
    title: ({ title }) => title,
    draw: captureFigure,
    csv: () => (shown === null ? [] : judgementCsv(shown)),
    reserve: (width) => (width < 620 ? 620 : 540),
  });
  const limits = textField(document, {
    label: "Limits of the voltage",
    value: options.limits,
    help: "Lower…upper. 11.7…15.9 V is 13.8 V ± 15 %: put your radio’s own here.",
    check: (text) => readLimits(text).problem,
  });
  limits.addEventListener("input", () => options.judge(readLimits(limits.value).limits, limits.value));
  const part = textField(document, {
    label: "Part of the time",
    value: "",
    help: "As in the picture: 0.9…1.1 s. Empty: all of it.",
    check: (text) => readPart(text).problem,
  });
  part.addEventListener("input", () => {
    const { from, to } = readPart(part.value);
    options.part(from, to);
  });
  const whole = button(document, {
    label: "All of it",
    press: () => {
      part.value = "";
      options.part(null, null);
    },
  });
  return {
    answer,
    controls: [limits, part, whole],
    table: table.element,
    sentences,
    picture: picture.element,
    get limits(): CaptureLimits {
      return readLimits(limits.value).limits;
    },
    busy(running: boolean): void {
      answer.setAttribute("aria-busy", String(running));
      picture.busy(running);
    },
    /** Nothing was read yet. */
    empty(message: string): void {
      if (shown !== null) return;
      setText(tag, "No capture");
      setText(headline, message);
      table.put([]);
      picture.element.hidden = true;
    },
    show({ judgement, picture: data }: CaptureJudged): void {
      shown = judgement;
      const { tone, words } = tagOf(judgement);
      answer.dataset.tone = tone;
      setText(tag, words);
      setText(headline, captureHeadline(judgement));
      table.put(rowsOf(judgement));
      sentences.replaceChildren(
        ...judgement.channels.map((channel) =>
          el(
            document,
            "details",
            { class: "more" },
            el(document, "summary", {}, `All that “${channel.name}” shows`),
            el(document, "ul", {}, ...channelSentences(channel).map((sentence) => el(document, "li", {}, sentence))),
          ),
        ),
      );
      picture.element.hidden = false;
      picture.show(data);
    },
    leave: picture.leave,
  };
}

function tagOf({ channels }: CaptureJudgement): { readonly tone: string; readonly words: string } {
  const held = channels.filter(({ findings }) => findings.length > 0);
  if (held.length === 0) return { tone: "none", words: "Read" };
  if (held.some(({ passed, tooClose }) => passed && !tooClose)) return { tone: "endangered", words: "Limit passed" };
  if (held.some(({ tooClose }) => tooClose)) return { tone: "close", words: "Too close to call" };
  return { tone: "safe", words: "Within the limit" };
}

function rowsOf({ channels }: CaptureJudgement): (readonly [string, ...string[]])[] {
  return channels.map((channel) => {
    const { name, unit, highest, lowest, resolution, open } = channel;
    const dimension = unit === "V" ? "voltage" : "current";
    const steps = resolution.quantum === null ? "" : `, ${formatQuantity(resolution.quantum, dimension)}`;
    return [
      name,
      extremeText(highest, dimension, "highest", { open: open.above, truth: false }),
      extremeText(lowest, dimension, "lowest", { open: open.below, truth: false }),
      beyondInShort(channel),
      tripsInShort(channel),
      `${formatQuantity(resolution.noise, dimension)}${steps}`,
    ];
  });
}
