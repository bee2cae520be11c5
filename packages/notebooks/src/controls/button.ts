import { el } from "./el.ts";
import { unitsKept } from "./units-kept.ts";

export interface ButtonOptions {
  readonly label: string;
  readonly press: (button: HTMLButtonElement) => void;
  /** `main` for the one a person looks for, `danger` for what cannot be taken back, `quiet` inside a line of text. */
  readonly kind?: "plain" | "main" | "danger" | "quiet";
  /** For screen readers, where the label says too little away from what it stands beside. */
  readonly name?: string;
  readonly disabled?: boolean;
}

/**
 * A button that does something at once.
 *
 * @example button(document, { label: "Undo", press: () => history.undo() })
 */
export function button(document: Document, options: ButtonOptions): HTMLButtonElement {
  const { label, press, kind = "plain", name = null, disabled = false } = options;
  const look = { plain: "button", main: "button main", danger: "button danger", quiet: "quiet" }[kind];
  const element = el(
    document,
    "button",
    { type: "button", class: look, "aria-label": name, disabled },
    kind === "quiet" ? unitsKept(label) : label,
  );
  element.addEventListener("click", () => press(element));
  return element;
}
