/**
 * What a page holds in hand: an element that is placed anywhere, with a value that is read and set without an event.
 * A person's change dispatches a bubbling `input`, and `change` once it is settled (the slider is let go, the field left).
 */
export type Control<Value, Changes = never> = HTMLElement & {
  value: Value;
  /** Changes what is shown, in place: focus and an open drag stay. */
  update(changes: Changes): void;
};

/** Makes an element a control. */
export function asControl<Value, Changes>(
  element: HTMLElement,
  face: { get(): Value; set(value: Value): void; update(changes: Changes): void },
): Control<Value, Changes> {
  Object.defineProperty(element, "value", { get: face.get, set: face.set, enumerable: true, configurable: true });
  Object.defineProperty(element, "update", { value: face.update, enumerable: true });
  return element as Control<Value, Changes>;
}

/** Tells listeners that a person changed the value. */
export function announce(element: HTMLElement, ...types: readonly ("input" | "change")[]): void {
  const { Event: EventOfWindow } = element.ownerDocument.defaultView ?? globalThis;
  for (const type of types) element.dispatchEvent(new EventOfWindow(type, { bubbles: true }));
}

/** Keeps the native events of an inner element from passing for the control's own. */
export function hush(inner: HTMLElement): void {
  for (const type of ["input", "change"]) inner.addEventListener(type, (event) => event.stopPropagation());
}

/** An id that no other element of the page has, also none that is not yet placed. */
export function freshId(stem: string): string {
  const [number] = crypto.getRandomValues(new Uint32Array(1));
  return `${stem}-${number.toString(36)}`;
}
