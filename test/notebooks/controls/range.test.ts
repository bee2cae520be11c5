import { describe, expect, test } from "vitest";
import { range } from "../../../packages/notebooks/src/controls/index.ts";
import { brokenIds, emptyPage, heard, slide, type, unnamed } from "./page.ts";

function trip(extra: Partial<Parameters<typeof range>[1]> = {}) {
  const { window, document, main } = emptyPage();
  const control = range(document, {
    label: "Trip voltage",
    unit: "V",
    min: 12,
    max: 18,
    step: 0.1,
    value: 15,
    source: "part class",
    ...extra,
  });
  main.append(control);
  const find = <T extends Element>(selector: string) => control.querySelector(selector) as T;
  const slider = find<HTMLInputElement>("input[type=range]");
  const field = find<HTMLInputElement>("input[type=text]");
  const problem = find<HTMLElement>(".control-problem");
  const back = find<HTMLButtonElement>(".quiet");
  return { window, document, main, control, slider, field, problem, back };
}
const plain = (text: string | null) => (text ?? "").replaceAll("\u00a0", " ");

describe("a value", () => {
  test("set by the page is shown everywhere and tells nobody", () => {
    const { control, slider, field } = trip();
    const events = [...heard(control, "input"), ...heard(control, "change")];
    control.value = 16.2;
    expect([slider.value, plain(field.value), plain(slider.getAttribute("aria-valuetext"))]).toEqual([
      "42",
      "16.2 V",
      "16.2 V",
    ]);
    expect(events).toEqual([]);
  });

  test("from the slider comes as input while it moves, as change once it rests, each once and bubbling", () => {
    const { window, main, control, slider } = trip();
    const [inputs, changes] = [heard(main, "input"), heard(main, "change")];
    slide(window, slider, 10, false);
    slide(window, slider, 11);
    expect([inputs.length, changes.length, control.value]).toEqual([2, 1, 13.1]);
  });

  test("typed with its unit, or without, is taken also between the stops", () => {
    const { window, control, field } = trip();
    type(window, field, "14.87 V");
    expect(control.value).toBe(14.87);
    type(window, field, "16");
    expect([control.value, plain(field.value)]).toEqual([16, "16 V"]);
  });

  test("moves by arrow keys in the field, from between two stops to the next", () => {
    const { window, control, field } = trip({ value: 14.87 });
    field.dispatchEvent(new window.KeyboardEvent("keydown", { key: "ArrowUp", bubbles: true, cancelable: true }));
    expect(control.value).toBe(14.9);
    field.dispatchEvent(new window.KeyboardEvent("keydown", { key: "ArrowDown", bubbles: true, cancelable: true }));
    expect(control.value).toBe(14.8);
  });

  test("goes back to the default by its button, which rests there", () => {
    const { control, back, slider, document } = trip({ value: 16, initial: 15 });
    const inputs = heard(control, "input");
    expect(plain(back.textContent)).toBe("default 15 V");
    back.click();
    expect([control.value, inputs, back.disabled]).toEqual([15, [15], true]);
    expect(document.activeElement).toBe(slider);
  });

  test("comes from a mark that is pressed", () => {
    const { control } = trip({ marks: [13.8, 16] });
    const marks = control.querySelectorAll<HTMLButtonElement>(".control-marks button");
    expect([...marks].map(({ textContent }) => plain(textContent))).toEqual(["13.8 V", "16 V"]);
    marks[1].click();
    expect(control.value).toBe(16);
  });
});

describe("a wrong text", () => {
  test.each([
    ["40 V", "Allowed: 12 V to 18 V"],
    ["14,5", "decimal point"],
    ["fifteen", "no number"],
    ["15 A", "The unit here is V"],
    ["", "no number"],
  ])("“%s” is told with what is allowed; the value stays", (text, words) => {
    const { window, control, field, problem } = trip();
    const inputs = heard(control, "input");
    type(window, field, text);
    expect(field.getAttribute("aria-invalid")).toBe("true");
    expect(plain(problem.textContent)).toContain(words);
    expect(plain(problem.textContent)).toContain(`Received “${text}”`);
    expect([control.value, inputs, field.value]).toEqual([15, [], text]);
  });

  test.each([
    ["14,5", "use 14.5 V", 14.5],
    ["fifteen", null, 15],
    ["40,5", null, 15],
  ] as const)("“%s” is offered as what was probably meant, and taken only by a press", (text, offered, taken) => {
    const { window, control, field } = trip();
    type(window, field, text);
    const offer = control.querySelector<HTMLButtonElement>(".control-offer");
    expect(offer === null ? null : plain(offer.textContent)).toBe(offered);
    expect(control.value).toBe(15);
    offer?.click();
    expect(control.value).toBe(taken);
    expect(control.querySelector(".control-offer") === null || offered === null).toBe(true);
  });

  test("is gone after Escape, after a right one, and when the page sets another value", () => {
    const { window, control, field, problem } = trip();
    const wrong = () => type(window, field, "40 V");
    const clean = () => [field.getAttribute("aria-invalid"), problem.textContent];
    wrong();
    type(window, field, "40 V", "Escape");
    expect([plain(field.value), ...clean()]).toEqual(["15 V", null, ""]);
    wrong();
    type(window, field, "14 V");
    expect(clean()).toEqual([null, ""]);
    wrong();
    control.value = 13;
    expect([plain(field.value), ...clean()]).toEqual(["13 V", null, ""]);
  });

  test("from a parser of the page brings that parser's words", () => {
    const { window, field, problem } = trip({
      parse: () => {
        throw new Error("Volts are wanted.");
      },
    });
    type(window, field, "x");
    expect(problem.textContent).toContain("Volts are wanted.");
  });
});

describe("an update", () => {
  test("changes range, source and value in place, and leaves the focus", () => {
    const { control, slider, document } = trip();
    slider.focus();
    control.update({ min: 10, max: 30, step: 0.5, value: 20, source: "written in the file", initial: 18 });
    expect(document.activeElement).toBe(slider);
    expect([control.value, slider.max, slider.value]).toEqual([20, "40", "20"]);
    expect(plain(control.querySelector(".control-source")?.textContent ?? "")).toBe(
      "10 V to 30 V · written in the file",
    );
    expect(plain(control.querySelector(".quiet")?.textContent ?? "")).toBe("default 18 V");
  });

  test("leaves alone what a person is typing", () => {
    const { window, control, field } = trip();
    field.value = "14.";
    field.dispatchEvent(new window.Event("input", { bubbles: true }));
    control.update({ source: "default" });
    expect(field.value).toBe("14.");
  });
});

test("labels belong to their fields, ids stand once", () => {
  const { document, main } = trip({ help: "Where it fires.", marks: [13, 14] });
  main.append(range(document, { label: "Trip voltage", min: 0, max: 1, value: 0 }));
  expect(unnamed(main)).toEqual([]);
  expect(brokenIds(main)).toEqual([]);
});

test("hostile words are shown as text", () => {
  const hostile = `<img src=x onerror="alert(1)">`;
  const { control } = trip({ label: hostile, unit: hostile, source: hostile, help: hostile });
  expect(control.querySelector("img")).toBeNull();
  expect(control.querySelector("label")?.textContent).toBe(hostile);
});
