import type { Slide } from "@railfault/sim";
import { slideFigure, slideName, type TalkPart } from "@railfault/sim/figures";
import { button, el, setText, textField } from "../../controls/index.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import type { Drawing } from "../../show/picture.ts";
import { type Words, wordProblem } from "./arranged.ts";
import type { Talk, TalkNow } from "./talk.ts";

const STEPS: Readonly<Record<string, number>> = {
  ArrowRight: 1,
  PageDown: 1,
  ArrowLeft: -1,
  PageUp: -1,
  Home: Number.NEGATIVE_INFINITY,
  End: Number.POSITIVE_INFINITY,
};

interface Shown {
  readonly parts: readonly TalkPart[];
  readonly slide: Slide;
  readonly at: number;
}

/** Height over width of a slide. */
const SLIDE = 1080 / 1920;
/** From here on the letters of a slide can be read, CSS pixels. */
const READABLE = 900;

/** As it will stand on the wall, where there is room for that. */
function onStage(drawing: Drawing): Drawing {
  const { size, width = 0, height: _, ...others } = drawing;
  if (size !== undefined || width === 0) return drawing;
  if (width >= READABLE) return { ...others, size: "slide" };
  return width < 620 ? drawing : { ...drawing, height: Math.round(width * SLIDE) };
}

/** The slide that is looked at, with what steps through the talk and what a person says of it. */
export function talkStage(talk: Talk) {
  const place = figurePlace<Shown>(document, {
    label: "Slide",
    draw: ({ parts, slide }, drawing) => slideFigure(parts, slide, onStage(drawing)),
    title: ({ slide, at }) => slideName(slide, at),
    reserve: (width) => (width < 620 ? 560 : Math.round(width * SLIDE)),
  });
  const count = el(document, "output", { class: "club-count", "aria-live": "polite" });
  const back = button(document, { label: "← Back", press: () => talk.go(talk.now.at - 1) });
  const on = button(document, { label: "On →", press: () => talk.go(talk.now.at + 1) });
  const stepping = el(
    document,
    "div",
    { class: "row club-steps", role: "group", "aria-label": "Step through the talk" },
    back,
    on,
    count,
  );
  const problems = issuesView(document, { most: 6 });
  const failed = el(document, "p", { class: "figure-failure", role: "alert", hidden: true });
  const lost = el(document, "p", { class: "club-lost", role: "status", hidden: true });
  const field = (of: keyof Words, label: string) => {
    const check = (text: string): string | null => wordProblem(of, text);
    const made = textField(document, { label, value: "", grows: true, takesWrong: true, check });
    made.addEventListener("input", () => talk.write(last?.entry?.key ?? "", of, made.value));
    return made;
  };
  let last: { readonly entry: TalkNow["entries"][number] | undefined; readonly parts: unknown } | null = null;
  const headline = field("headline", "Headline");
  const sentence = field("sentence", "One sentence");
  const said = el(document, "div", { class: "club-words" }, headline, sentence);
  const element = el(document, "div", { class: "club-stage" }, stepping, lost, problems.element, failed, place.element);

  element.addEventListener("keydown", (event) => {
    const step = STEPS[event.key];
    const { target, ctrlKey, altKey, metaKey } = event;
    if (step === undefined || ctrlKey || altKey || metaKey || target instanceof HTMLTextAreaElement) return;
    event.preventDefault();
    talk.go(talk.now.at + step);
  });

  const end = talk.follow((now) => {
    const { entries, at, parts, lines } = now;
    const entry = entries[at];
    // A finger on a button leaves the keyboard in the field: what is typed there is taken for its own slide first.
    const typed = document.activeElement;
    if (last?.entry?.key !== entry?.key && typed instanceof HTMLTextAreaElement && said.contains(typed)) {
      typed.blur();
      if (talk.now !== now) return;
    }
    const from = lines[entry?.line ?? 0];
    place.busy(from.status === "running");
    setText(count, `Slide ${at + 1} of ${entries.length}${lines.length > 1 ? `: ${from.title}` : ""}`);
    // Not `disabled`: a button that goes dead under the focus would throw a keyboard back to the top of the page.
    for (const [press, ends] of [
      [back, at === 0],
      [on, at >= entries.length - 1],
    ] as const)
      if (ends) press.setAttribute("aria-disabled", "true");
      else press.removeAttribute("aria-disabled");
    problems.show(lines.flatMap(({ status, issues }) => (status === "refused" ? issues : [])));
    const broken = lines.flatMap(({ title, message }) => (message === null ? [] : [`${title}: ${message}`]));
    setText(failed, broken.join(" "));
    failed.hidden = broken.length === 0;
    setText(lost, now.lost.join(" "));
    lost.hidden = now.lost.length === 0;
    said.hidden = entry?.slide == null;
    const same =
      last !== null &&
      last.entry?.key === entry?.key &&
      JSON.stringify([last.entry?.slide, last.entry?.written]) === JSON.stringify([entry?.slide, entry?.written]) &&
      last.parts === parts[entry?.slide?.part ?? 0]?.answered;
    last = { entry, parts: parts[entry?.slide?.part ?? 0]?.answered };
    if (entry?.slide == null || same) return;
    for (const [of, control] of [
      ["headline", headline],
      ["sentence", sentence],
    ] as const) {
      const own = entry.written[of];
      const help =
        own === undefined
          ? "Proposed from the verdict; write your own, if you like."
          : "Yours. Empty it, and the proposed one is back.";
      control.update({ value: own ?? entry.slide[of], help });
    }
    place.show({ parts, slide: entry.slide, at });
  });
  return {
    element,
    words: said,
    leave(): void {
      end();
      place.leave();
    },
  };
}
