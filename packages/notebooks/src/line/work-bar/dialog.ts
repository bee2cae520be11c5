import { button, el, freshId } from "../../controls/index.ts";

export interface OpenDialog<T> {
  readonly element: HTMLDialogElement;
  /** Closes it with an answer. */
  close(answer: T): void;
}

export interface DialogOptions<T> {
  readonly title: string;
  /** `small` for a question with its own buttons; `chooser` is large and has a way out at its top. */
  readonly look: "small" | "chooser";
  /** What stands in it below the title; called once, before it is shown. */
  readonly fill: (dialog: OpenDialog<T>) => readonly Node[];
  /** Called once it is shown: where the focus should go. */
  readonly shown?: () => void;
}

/**
 * A dialog over the page. Escape closes it without an answer, and the focus goes back to where it was.
 *
 * @returns the answer; null where it was closed without one
 */
export function openDialog<T>(document: Document, options: DialogOptions<T>): Promise<T | null> {
  const { title, look, fill, shown } = options;
  const id = freshId("dialog");
  const element = el(document, "dialog", { class: `work-dialog ${look}`, "aria-labelledby": id });
  const from = document.activeElement;
  return new Promise((resolve) => {
    let given: T | null = null;
    const close = (answer: T | null): void => {
      given = answer;
      element.close();
    };
    const head = el(document, "div", { class: "dialog-head" }, el(document, "h2", { id }, title));
    if (look === "chooser") head.append(button(document, { label: "Close", kind: "quiet", press: () => close(null) }));
    element.append(head, ...fill({ element, close }));
    element.addEventListener("close", () => {
      element.remove();
      if (from?.isConnected) (from as HTMLElement).focus?.();
      resolve(given);
    });
    // A press on what lies behind it closes it too.
    element.addEventListener("pointerdown", (event) => {
      if (event.target === element && isBeside(element, event)) close(null);
    });
    document.body.append(element);
    element.showModal();
    shown?.();
  });
}

function isBeside(element: Element, { clientX, clientY }: MouseEvent): boolean {
  const { left, right, top, bottom } = element.getBoundingClientRect();
  return clientX < left || clientX > right || clientY < top || clientY > bottom;
}
