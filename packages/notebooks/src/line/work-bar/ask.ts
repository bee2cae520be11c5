import { button, el, freshId, setAttributes, setText } from "../../controls/index.ts";
import { openDialog } from "./dialog.ts";

export interface Question {
  readonly title: string;
  readonly text: string;
  /** What is done on yes: “Delete”. */
  readonly yes: string;
  /** What stays as it is on no: “Keep it”. */
  readonly no: string;
}

/** Asks before something is done; the harmless answer has the focus. */
export async function askYes(document: Document, { title, text, yes, no }: Question): Promise<boolean> {
  let harmless: HTMLElement | null = null;
  const answer = await openDialog<boolean>(document, {
    title,
    look: "small",
    fill: ({ close }) => {
      const keep = button(document, { label: no, press: () => close(false) });
      const act = button(document, { label: yes, kind: "danger", press: () => close(true) });
      harmless = keep;
      return [el(document, "p", {}, text), el(document, "div", { class: "dialog-foot" }, act, keep)];
    },
    shown: () => harmless?.focus(),
  });
  return answer === true;
}

/** What became of a name that was tried. */
export type Tried =
  | { readonly kind: "done" }
  /** Why it cannot be; the question stays open. */
  | { readonly kind: "problem"; readonly text: string }
  /** It is taken; `text` says by what. */
  | { readonly kind: "taken"; readonly text: string };

export interface NameQuestion {
  readonly title: string;
  readonly help: string;
  readonly proposal: string;
  readonly yes: string;
  /** What replacing a taken name is called; left out where that is not offered. */
  readonly replace?: string;
  readonly attempt: (name: string, replace: boolean) => Promise<Tried>;
}

/** Asks for a name until it works or is called off. */
export async function askName(document: Document, question: NameQuestion): Promise<void> {
  const id = freshId("name");
  const input = el(document, "input", {
    type: "text",
    id,
    autocomplete: "off",
    spellcheck: "false",
    "aria-describedby": `${id}-help ${id}-problem`,
  });
  input.value = question.proposal;
  const problem = el(document, "span", { class: "control-problem", id: `${id}-problem`, role: "alert" });
  const field = el(
    document,
    "div",
    { class: "control control-text" },
    el(document, "label", { for: id }, "Name"),
    input,
    el(document, "span", { class: "control-help", id: `${id}-help` }, question.help),
    problem,
  );
  await openDialog<true>(document, {
    title: question.title,
    look: "small",
    fill: ({ element, close }) => {
      const attempt = async (replace: boolean): Promise<void> => {
        const tried = await question.attempt(input.value, replace);
        if (tried.kind === "done") {
          close(true);
          return;
        }
        setText(problem, tried.text);
        setAttributes(input, { "aria-invalid": "true" });
        if (over !== null) over.hidden = tried.kind !== "taken";
        input.focus();
        input.select();
      };
      const over =
        question.replace === undefined
          ? null
          : button(document, { label: question.replace, kind: "danger", press: () => void attempt(true) });
      if (over !== null) over.hidden = true;
      const form = el(document, "form", { method: "dialog" }, field);
      form.append(
        el(
          document,
          "div",
          { class: "dialog-foot" },
          over,
          button(document, { label: "Cancel", press: () => element.close() }),
          el(document, "button", { type: "submit", class: "button main" }, question.yes),
        ),
      );
      input.addEventListener("input", () => {
        if (over !== null) over.hidden = true;
        setText(problem, "");
        setAttributes(input, { "aria-invalid": null });
      });
      form.addEventListener("submit", (event) => {
        event.preventDefault();
        void attempt(false);
      });
      return [form];
    },
    shown: () => input.select(),
  });
}
