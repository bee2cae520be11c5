import { JSDOM } from "jsdom";

/** An empty page; what a test puts into `main` hears and is heard like in a browser. */
export function emptyPage() {
  const { window } = new JSDOM("<!doctype html><html lang='en'><body><main></main></body></html>");
  const { document } = window;
  const main = document.querySelector("main") as HTMLElement;
  return { window, document, main };
}

type Window = ReturnType<typeof emptyPage>["window"];

/** Events of a kind that reach `target`, with the value it had then. */
export function heard(target: HTMLElement & { value?: unknown }, type: string): unknown[] {
  const values: unknown[] = [];
  target.addEventListener(type, () => values.push(target.value));
  return values;
}

/** A person types a text and presses a key. */
export function type(window: Window, field: HTMLInputElement, text: string, key = "Enter"): void {
  field.value = text;
  field.dispatchEvent(new window.Event("input", { bubbles: true }));
  field.dispatchEvent(new window.KeyboardEvent("keydown", { key, bubbles: true }));
}

/** A person moves a slider to a stop; `settled` when it is let go. */
export function slide(window: Window, slider: HTMLInputElement, stop: number, settled = true): void {
  slider.value = String(stop);
  slider.dispatchEvent(new window.Event("input", { bubbles: true }));
  if (settled) slider.dispatchEvent(new window.Event("change", { bubbles: true }));
}

/** Every field and button that a screen reader would meet without a name. */
export function unnamed(root: ParentNode): string[] {
  return [...root.querySelectorAll<HTMLElement>("input, select, button, textarea")]
    .filter((each) => {
      const byId = each.ownerDocument.querySelector(`label[for="${each.id}"]`);
      const label = each.closest("label") ?? (each.id === "" ? null : byId);
      const name =
        each.getAttribute("aria-label") ?? label?.textContent ?? (each.matches("button") ? each.textContent : "");
      return (name ?? "").trim() === "";
    })
    .map((each) => each.outerHTML);
}

/** Ids that stand twice, and references to ids that do not exist. */
export function brokenIds(root: ParentNode): string[] {
  const ids = [...root.querySelectorAll("[id]")].map(({ id }) => id);
  const twice = ids.filter((id, i) => ids.indexOf(id) !== i);
  const references = [...root.querySelectorAll("[aria-describedby], [aria-labelledby], [for]")].flatMap((each) =>
    ["aria-describedby", "aria-labelledby", "for"].flatMap((name) => (each.getAttribute(name) ?? "").split(" ")),
  );
  return [...twice, ...references.filter((id) => id !== "" && !ids.includes(id))];
}
