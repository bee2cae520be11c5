import { el, setAttributes, setText } from "./el.ts";

/** Files and fields write a hyphen for a minus; what is only read has the sign proper. */
const withMinus = (text: string): string => text.replace(/(?<!\S)-(?=\d)/g, "−");

/** The line under a slider: its range, where the default comes from, the way back, or what is wrong. */
export function rangeFoot(document: Document, id: string) {
  const source = el(document, "span", { class: "control-source", id: `${id}-source` });
  const back = el(document, "button", { type: "button", class: "quiet" });
  const problem = el(document, "span", { class: "control-problem", id: `${id}-problem`, role: "alert" });
  const offer = el(document, "button", { type: "button", class: "quiet control-offer" });
  const element = el(document, "div", { class: "control-foot" }, source, back, problem);
  return {
    element,
    back,
    offer,
    source(limits: string, from: string): void {
      setText(source, from === "" ? withMinus(limits) : `${withMinus(limits)} · ${from}`);
    },
    /** The button keeps its place while there is nothing to go back to. */
    showDefault(value: string | null, there: boolean): void {
      back.hidden = value === null;
      setText(back, value === null ? "" : withMinus(`default ${value}`));
      setAttributes(back, { disabled: there });
    },
    /** What is wrong, and the value that was probably meant: it is taken when the button is pressed. */
    problem(text: string, meant: string | null = null): void {
      setText(problem, text);
      setText(offer, meant === null ? "" : `use ${meant}`);
      if (meant === null) offer.remove();
      else element.append(offer);
    },
  };
}
