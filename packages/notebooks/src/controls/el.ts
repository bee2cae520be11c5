import { unitsKept } from "./units-kept.ts";

type Attribute = string | number | boolean | null;
type Child = Node | string | null;

/** Where sentences and figures stand that are read. What is copied, typed, chosen or kept as it is written has its text untouched. */
const READ = new Set("p li td th dt dd h2 h3 h4 span strong em small summary figcaption caption".split(" "));

const shownIn = (element: Element, text: string): string => (READ.has(element.localName) ? unitsKept(text) : text);

/**
 * An element with attributes and children. Texts become text nodes, so markup in a name stays text; where they are read, a number stays on one line with its unit.
 *
 * @param document the browser's, or one of jsdom's
 * @param attributes `true` stands for an attribute without a value; `false` and null leave it out
 * @throws TypeError on an attribute that would hold a script
 * @example el(document, "label", { for: id }, "Trip voltage")
 */
export function el<K extends keyof HTMLElementTagNameMap>(
  document: Document,
  tag: K,
  attributes: Readonly<Record<string, Attribute>> = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  setAttributes(element, attributes);
  const there = children.filter((child) => child !== null);
  element.append(...there.map((child) => (typeof child === "string" ? shownIn(element, child) : child)));
  return element;
}

/** Sets attributes in place; null removes one, and so does false where the attribute is there or not (`disabled`, but not `aria-pressed`). */
export function setAttributes(element: Element, attributes: Readonly<Record<string, Attribute>>): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (/^on/i.test(name)) throw new TypeError(`${name}: listeners are added with addEventListener.`);
    if (name.startsWith("aria-") && value !== null) element.setAttribute(name, String(value));
    else if (value === false || value === null) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
}

/** Writes a text only where it differs: screen readers speak up on every change. */
export function setText(element: Element, text: string): void {
  const shown = shownIn(element, text);
  if (element.textContent !== shown) element.textContent = shown;
}

/** A field of one row or of many. */
export type TextInput = HTMLElement & Pick<HTMLInputElement, "value" | "selectionStart" | "selectionEnd" | "select">;

/** Puts a text into a field. Where all of it was chosen to be typed over, all of the new text is. */
export function setFieldText(field: TextInput, text: string): void {
  if (field.value === text) return;
  const { selectionStart, selectionEnd, value } = field;
  const isChosen = field.ownerDocument.activeElement === field && selectionEnd !== 0;
  field.value = text;
  if (isChosen && selectionStart === 0 && selectionEnd === value.length) field.select();
}
