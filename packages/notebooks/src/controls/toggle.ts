import { announce, asControl, type Control, freshId, hush } from "./control.ts";
import { el, setAttributes, setText } from "./el.ts";

export interface ToggleOptions {
  readonly label: string;
  readonly value: boolean;
  readonly help?: string;
  readonly disabled?: boolean;
}

/**
 * Yes or no.
 *
 * @returns an element whose `value` is true or false
 * @example toggle(document, { label: "Nothing protects", value: false, help: "The same line without fuse and crowbar." })
 */
export function toggle(document: Document, options: ToggleOptions): Control<boolean, Partial<ToggleOptions>> {
  const id = freshId("toggle");
  const input = el(document, "input", { type: "checkbox" });
  const label = el(document, "span");
  const help = el(document, "span", { class: "control-help", id: `${id}-help` });
  const root = el(document, "div", { class: "control control-toggle" }, el(document, "label", {}, input, label), help);
  let shown = options;

  const apply = (): void => {
    setText(label, shown.label);
    setText(help, shown.help ?? "");
    help.hidden = shown.help === undefined;
    setAttributes(input, {
      disabled: shown.disabled ?? false,
      "aria-describedby": shown.help === undefined ? null : `${id}-help`,
    });
  };
  hush(input);
  input.addEventListener("input", () => announce(root, "input", "change"));
  input.checked = options.value;
  apply();

  return asControl<boolean, Partial<ToggleOptions>>(root, {
    get: () => input.checked,
    set: (value) => {
      input.checked = value;
    },
    update: (changes) => {
      shown = { ...shown, ...changes };
      if (changes.value !== undefined) input.checked = changes.value;
      apply();
    },
  });
}
