import { announce, asControl, type Control, freshId, hush } from "./control.ts";
import { el, setAttributes, setText } from "./el.ts";

export interface ChoiceOption {
  readonly value: string;
  readonly label: string;
  /** Said under the label in a list, added to it in a menu, left out in segments. */
  readonly note?: string;
  readonly disabled?: boolean;
  /** In a menu, options of the same group that follow each other stand under its name. */
  readonly group?: string;
}

export interface ChoiceOptions {
  readonly label: string;
  readonly options: readonly ChoiceOption[];
  readonly value: string;
  readonly help?: string;
  /** `segments` for a few short words, `list` for sentences, `menu` for many. Default by their number: up to four are segments. */
  readonly as?: "segments" | "list" | "menu";
}

export type ChoiceChanges = Partial<Omit<ChoiceOptions, "as">>;

interface Body {
  readonly element: HTMLElement;
  fill(options: readonly ChoiceOption[]): void;
  show(value: string): void;
}

/**
 * One of several words: radio buttons drawn as segments or as a list, or a menu.
 *
 * @returns an element whose `value` is the chosen option's
 * @throws RangeError when no option has the value
 * @example choice(document, { label: "Limit style", options: [{ value: "hiccup", label: "hiccup" }, …], value: "hiccup" })
 */
export function choice(document: Document, options: ChoiceOptions): Control<string, ChoiceChanges> {
  const as = options.as ?? (options.options.length <= 4 ? "segments" : "menu");
  const id = freshId("choice");
  const help = el(document, "span", { class: "control-help", id: `${id}-help` });
  let shown: ChoiceOptions = options;
  let value = options.value;

  const chosen = (text: string): void => {
    if (text === value) return;
    value = text;
    body.show(value);
    announce(root, "input", "change");
  };
  const body = as === "menu" ? menu(document, id, chosen) : radios(document, id, as, chosen);
  const name = as === "menu" ? el(document, "label", { for: id }) : el(document, "legend");
  const root =
    as === "menu"
      ? el(document, "div", { class: "control control-choice" }, name, help, body.element)
      : el(document, "fieldset", { class: "control control-choice" }, name, help, body.element);

  const known = (text: string, of: ChoiceOptions): string => {
    if (of.options.some((option) => option.value === text)) return text;
    const allowed = of.options.map((option) => option.value).join(", ");
    throw new RangeError(`${of.label}: received “${text}”; allowed: ${allowed}.`);
  };
  const apply = (refill: boolean): void => {
    setText(name, shown.label);
    setText(help, shown.help ?? "");
    help.hidden = shown.help === undefined;
    setAttributes(as === "menu" ? body.element : root, {
      "aria-describedby": shown.help === undefined ? null : `${id}-help`,
    });
    if (refill) body.fill(shown.options);
    body.show(value);
  };
  known(value, shown);
  apply(true);

  return asControl<string, ChoiceChanges>(root, {
    get: () => value,
    set: (text) => {
      value = known(text, shown);
      body.show(value);
    },
    update: (changes) => {
      const refill = changes.options !== undefined && !sameOptions(changes.options, shown.options);
      const next = { ...shown, ...changes };
      const before = value;
      const told = shown;
      value = known(changes.value ?? value, next);
      shown = next;
      // Every control of a page is told of every change of the line; most have nothing to show anew.
      if (refill || value !== before || next.help !== told.help || next.label !== told.label) apply(refill);
    },
  });
}

/** Options that read the same are not made anew: the one in focus would lose it. */
function sameOptions(a: readonly ChoiceOption[], b: readonly ChoiceOption[]): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function menu(document: Document, id: string, chosen: (value: string) => void): Body {
  const select = el(document, "select", { id });
  hush(select);
  select.addEventListener("input", () => chosen(select.value));
  return {
    element: select,
    fill: (options) => {
      const parts: HTMLElement[] = [];
      for (const { value, label, note, disabled = false, group } of options) {
        const option = el(document, "option", { value, disabled }, note === undefined ? label : `${label} – ${note}`);
        const last = parts.at(-1);
        if (group === undefined) parts.push(option);
        else if (last?.getAttribute("label") === group) last.append(option);
        else parts.push(el(document, "optgroup", { label: group }, option));
      }
      select.replaceChildren(...parts);
    },
    show: (value) => {
      select.value = value;
    },
  };
}

function radios(document: Document, id: string, as: "segments" | "list", chosen: (value: string) => void): Body {
  const group = el(document, "div", { class: `control-${as}` });
  const radio = (option: ChoiceOption): HTMLElement => {
    const { value, label, note, disabled = false } = option;
    const input = el(document, "input", { type: "radio", name: id, value, disabled });
    hush(input);
    input.addEventListener("input", () => chosen(value));
    const small = as === "list" && note !== undefined ? el(document, "span", { class: "control-help" }, note) : null;
    return el(document, "label", {}, input, el(document, "span", {}, label), small);
  };
  return {
    element: group,
    fill: (options) => group.replaceChildren(...options.map(radio)),
    show: (value) => {
      for (const input of group.querySelectorAll("input")) input.checked = input.value === value;
    },
  };
}
