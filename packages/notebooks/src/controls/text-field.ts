import { announce, asControl, type Control, freshId, hush } from "./control.ts";
import { el, setAttributes, setFieldText, setText, type TextInput } from "./el.ts";

export interface TextFieldOptions {
  readonly label: string;
  readonly value: string;
  readonly help?: string;
  /** A sentence saying what is wrong; null where nothing is. */
  readonly check?: (text: string) => string | null;
  readonly disabled?: boolean;
  /** Whether it grows with its text, which stays one paragraph. Default false. */
  readonly grows?: boolean;
  /** Whether a text with something wrong is taken all the same, what is wrong with it standing below: for whoever keeps work that is not done. Default false. */
  readonly takesWrong?: boolean;
}

/**
 * A line of text, taken when it is finished (Enter, or the field is left); Escape brings the old one back.
 *
 * @returns an element whose `value` is the last text that was taken
 * @example textField(document, { label: "Name", value: "hut", check: (text) => (text === "" ? "A name is needed." : null) })
 */
export function textField(document: Document, options: TextFieldOptions): Control<string, Partial<TextFieldOptions>> {
  const id = freshId("text");
  const label = el(document, "label", { for: id });
  const input: TextInput = options.grows
    ? el(document, "textarea", { id, rows: 1 })
    : el(document, "input", { type: "text", id, autocomplete: "off", spellcheck: "false" });
  input.setAttribute("aria-describedby", `${id}-help ${id}-problem`);
  const help = el(document, "span", { class: "control-help", id: `${id}-help` });
  const problem = el(document, "span", { class: "control-problem", id: `${id}-problem`, role: "alert" });
  const root = el(document, "div", { class: "control control-text" }, label, input, help, problem);
  let shown = options;
  let value = options.value;

  /** What somebody is typing at this moment is not taken from under their hands. */
  const typed = (): boolean => document.activeElement === input && input.value !== value;

  const tell = (wrong: string | null): void => {
    setAttributes(input, { "aria-invalid": wrong === null ? null : "true" });
    setText(problem, wrong ?? "");
  };
  const accept = (): void => {
    setFieldText(input, value);
    tell(options.takesWrong ? (shown.check?.(value) ?? null) : null);
  };
  const commit = (): void => {
    const rows = input.value.split("\n").map((row) => row.trim());
    const text = rows.filter((row) => row !== "").join(" ");
    const wrong = shown.check?.(text) ?? null;
    if (wrong !== null && !options.takesWrong) {
      tell(wrong);
      return;
    }
    const changed = text !== value;
    value = text;
    accept();
    if (changed) announce(root, "input", "change");
  };
  const apply = (keeps = false): void => {
    setText(label, shown.label);
    setText(help, shown.help ?? "");
    help.hidden = shown.help === undefined;
    setAttributes(input, { disabled: shown.disabled ?? false });
    if (keeps) return;
    if (options.takesWrong) accept();
    else if (input.getAttribute("aria-invalid") !== "true") setFieldText(input, value);
  };
  hush(input);
  input.addEventListener("change", commit);
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") {
      if (options.grows) event.preventDefault();
      commit();
    } else if (event.key === "Escape") accept();
  });
  apply();

  return asControl<string, Partial<TextFieldOptions>>(root, {
    get: () => value,
    set: (text) => {
      const keeps = typed();
      value = text;
      if (!keeps) accept();
    },
    update: (changes) => {
      shown = { ...shown, ...changes };
      const keeps = typed();
      if (changes.value !== undefined) value = changes.value;
      apply(keeps);
    },
  });
}
