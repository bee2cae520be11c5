import { el } from "../../controls/index.ts";
import { closesLikeMenu } from "../../show/menu.ts";

const NARROW = "(max-width: 63.99rem)";

export interface Folding {
  readonly element: HTMLElement;
  leave(): void;
}

/** Actions in a row; on a narrow screen those that are wanted less often are in a list behind “More”. */
export function folding(document: Document, first: readonly HTMLElement[], rest: readonly HTMLElement[]): Folding {
  const list = el(document, "div", { class: "menu-list" });
  const more = el(document, "details", { class: "menu" }, el(document, "summary", { class: "button" }, "More"), list);
  const element = el(document, "div", { class: "work-actions" }, ...first);
  closesLikeMenu(more);
  list.addEventListener(
    "click",
    (event) => {
      if (event.target === list) return;
      more.open = false;
      more.querySelector("summary")?.focus();
    },
    true,
  );
  const narrow = document.defaultView?.matchMedia?.(NARROW) ?? null;
  const place = (): void => {
    const focused = document.activeElement;
    const folds = narrow?.matches ?? false;
    for (const each of rest) each.classList.toggle("button", !folds);
    if (folds) {
      list.replaceChildren(...rest);
      element.append(more);
    } else {
      more.remove();
      element.append(...rest);
    }
    if (rest.some((each) => each === focused))
      (folds ? more.querySelector("summary") : (focused as HTMLElement))?.focus();
  };
  place();
  narrow?.addEventListener("change", place);
  return { element, leave: () => narrow?.removeEventListener("change", place) };
}
