import { announce, asControl, type Control, freshId, hush } from "./control.ts";
import { el, setAttributes, setFieldText, setText } from "./el.ts";
import { meantBy } from "./meant.ts";
import { defaultFormat, defaultParse } from "./number.ts";
import { rangeFoot } from "./range-foot.ts";
import { type Stops, type StopsOptions, stopsOf } from "./stops.ts";

export interface RangeOptions extends StopsOptions {
  readonly label: string;
  /** Written after the number where `format` is left out, and asked for by a screen reader. */
  readonly unit?: string;
  readonly value: number;
  /** What the value is without a person's doing; default `value`. Null: there is none. */
  readonly initial?: number | null;
  /** Where the default comes from, as a short text. */
  readonly source?: string;
  readonly help?: string;
  /** Value to text with unit. */
  readonly format?: (value: number) => string;
  /** Text to value; throws an Error whose message explains, or gives NaN. */
  readonly parse?: (text: string) => number;
  /** Typical values, marked under the slider; pressing one takes it. */
  readonly marks?: readonly number[];
  readonly disabled?: boolean;
  /** There is no value: none is shown, and `value` is not meant. */
  readonly absent?: boolean;
}

/** In place of a value where there is none. */
const ABSENT = "–";

export type RangeChanges = Partial<RangeOptions>;

/**
 * A number with its unit: a slider, a field that takes what is typed, its range, the source of its default and the way back to it.
 *
 * @param document the browser's, or one of jsdom's
 * @returns an element whose `value` is the number; what is typed may lie between the slider's stops, never outside the range
 * @throws RangeError as `stopsOf` does
 * @example
 * const trip = range(document, { label: "Trip voltage", unit: "V", min: 12, max: 18, step: 0.1, value: 15, source: "part class" });
 * trip.addEventListener("input", () => run(trip.value));
 */
export function range(document: Document, options: RangeOptions): Control<number, RangeChanges> {
  const id = freshId("range");
  const label = el(document, "label", { for: `${id}-slider` });
  const field = el(document, "input", {
    type: "text",
    id: `${id}-field`,
    autocomplete: "off",
    spellcheck: "false",
    "aria-describedby": `${id}-problem ${id}-source`,
  });
  const slider = el(document, "input", { type: "range", id: `${id}-slider`, min: 0, step: 1 });
  const defaultMark = el(document, "span", { class: "control-default", "aria-hidden": "true" });
  const marks = el(document, "div", { class: "control-marks", role: "group", "aria-label": "Typical values" });
  const help = el(document, "span", { class: "control-help", id: `${id}-help` });
  const foot = rangeFoot(document, id);
  const scale = el(document, "div", { class: "control-scale" }, slider, defaultMark);
  const root = el(document, "div", { class: "control control-range" }, label, field, help, scale, marks, foot.element);

  let shown: RangeOptions = options;
  let initial = options.initial === undefined ? options.value : options.initial;
  let stops: Stops = stopsOf(options);
  let value = options.value;
  // What the field last said, and whether a person has begun to change it.
  let said = Number.NaN;
  let typing = false;
  // What a text that was refused probably means; it is taken only when somebody says so.
  let meant: number | null = null;

  const format = (number: number): string => (shown.format ?? defaultFormat(shown.unit))(number);
  const share = (number: number): number => Math.min(1, Math.max(0, stops.placeOf(number) / (stops.count - 1)));

  const showValue = (from: "slider" | "field" | "page"): void => {
    // A slider in hand is not pulled to the nearest stop under the finger.
    if (from !== "slider") slider.value = String(Math.round(stops.placeOf(value)));
    scale.style.setProperty("--filled", `calc(7px + ${share(value)} * (100% - 14px))`);
    setAttributes(slider, { "aria-valuetext": shown.absent ? "none" : format(value) });
    // A text being typed is left alone until it is finished, or until the value becomes another one.
    if (!typing || from !== "page" || value !== said) accept();
    foot.showDefault(
      initial === null || shown.absent ? null : format(initial),
      initial === null || initial === value || shown.disabled === true,
    );
  };

  const accept = (): void => {
    typing = false;
    said = value;
    setFieldText(field, shown.absent ? ABSENT : format(value));
    setAttributes(field, { "aria-invalid": null });
    foot.problem("");
  };

  const refuse = (text: string, why: string): void => {
    setAttributes(field, { "aria-invalid": "true" });
    meant = meantBy(text, format(value), (candidate) => read(candidate), shown);
    const wish = meant === null ? "" : ` Type ${format(meant)}.`;
    foot.problem(`Received “${text}”. ${why}${wish} Still ${format(value)}.`, meant === null ? null : format(meant));
  };

  const read = (text: string): number => (shown.parse ?? defaultParse(shown.unit))(text);

  const take = (number: number, from: "slider" | "field", ...types: readonly ("input" | "change")[]): void => {
    const before = value;
    value = number;
    showValue(from);
    if (value !== before || types[0] === "change") announce(root, ...types);
  };

  const commit = (): void => {
    const text = field.value.trim();
    if (text === format(value)) {
      accept();
      return;
    }
    const allowed = `Allowed: ${format(shown.min)} to ${format(shown.max)}.`;
    try {
      const number = read(text);
      if (number >= shown.min && number <= shown.max) take(number, "field", "input", "change");
      else refuse(text, allowed);
    } catch (error) {
      refuse(text, `${error instanceof Error ? error.message : "This is no value."} ${allowed}`);
    }
  };

  const apply = (): void => {
    setText(label, shown.label);
    setAttributes(field, { "aria-label": `${shown.label}: type a value`, disabled: shown.disabled ?? false });
    setAttributes(slider, {
      max: stops.count - 1,
      disabled: shown.disabled ?? false,
      "aria-describedby": shown.help === undefined ? `${id}-source` : `${id}-help ${id}-source`,
    });
    setText(help, shown.help ?? "");
    help.hidden = shown.help === undefined;
    defaultMark.hidden = initial === null || shown.absent === true;
    defaultMark.style.setProperty("--at", String(initial === null ? 0 : share(initial)));
    marks.hidden = (shown.marks ?? []).length === 0;
    marks.replaceChildren(...(shown.marks ?? []).map(markButton));
    if (shown.absent) foot.source(shown.source ?? "", "");
    else foot.source(`${format(shown.min)} to ${format(shown.max)}`, shown.source ?? "");
    showValue("page");
  };

  const markButton = (number: number): HTMLElement => {
    const button = el(document, "button", { type: "button", disabled: shown.disabled ?? false }, format(number));
    button.style.setProperty("--at", String(share(number)));
    button.addEventListener("click", () => take(number, "field", "input", "change"));
    return button;
  };

  hush(slider);
  hush(field);
  slider.addEventListener("input", () => take(stops.valueAt(Number(slider.value)), "slider", "input"));
  slider.addEventListener("change", () => take(stops.valueAt(Number(slider.value)), "slider", "change"));
  field.addEventListener("input", () => {
    typing = true;
  });
  field.addEventListener("change", commit);
  field.addEventListener("keydown", (event) => {
    if (event.key === "Enter") commit();
    else if (event.key === "Escape") accept();
    else if (event.key === "ArrowUp" || event.key === "ArrowDown") {
      event.preventDefault();
      const place = stops.placeOf(value);
      const next = event.key === "ArrowUp" ? Math.floor(place + 1e-9) + 1 : Math.ceil(place - 1e-9) - 1;
      if (next >= 0 && next < stops.count) take(stops.valueAt(next), "field", "input", "change");
    }
  });
  foot.back.addEventListener("click", () => {
    if (initial === null) return;
    take(initial, "field", "input", "change");
    slider.focus();
  });
  foot.offer.addEventListener("click", () => {
    if (meant === null) return;
    take(meant, "field", "input", "change");
    field.focus();
  });
  apply();

  return asControl<number, RangeChanges>(root, {
    get: () => value,
    set: (number) => {
      value = number;
      showValue("page");
    },
    update: (changes) => {
      if (saysNothingNew(changes, shown, value, initial)) return;
      const next = { ...shown, ...changes };
      stops = stopsOf(next);
      shown = next;
      if (changes.initial !== undefined) initial = changes.initial;
      if (changes.value !== undefined) value = changes.value;
      apply();
    },
  });
}

/** Every control of a page is told of every change of the line; most of them have nothing to show anew. */
function saysNothingNew(changes: RangeChanges, shown: RangeOptions, value: number, initial: number | null): boolean {
  const present: RangeChanges = { ...shown, value, initial };
  return (Object.keys(changes) as (keyof RangeChanges)[]).every((key) => changes[key] === present[key]);
}
