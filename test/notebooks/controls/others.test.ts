import { describe, expect, test } from "vitest";
import { button, choice, el, fileButton, textField, toggle } from "../../../packages/notebooks/src/controls/index.ts";
import { brokenIds, emptyPage, heard, type, unnamed } from "./page.ts";

const styles = [
  { value: "hiccup", label: "hiccup" },
  { value: "foldback", label: "foldback", note: "less current the lower the voltage" },
  { value: "latch", label: "latch-off" },
];

describe("a choice", () => {
  test.each(["segments", "list"] as const)("as %s is a group of radio buttons under a legend", (as) => {
    const { window, document, main } = emptyPage();
    const control = choice(document, { label: "Limit style", options: styles, value: "hiccup", as });
    main.append(control);
    const [inputs, changes] = [heard(control, "input"), heard(control, "change")];
    const radios = control.querySelectorAll<HTMLInputElement>("input[type=radio]");
    radios[1].checked = true;
    radios[1].dispatchEvent(new window.Event("input", { bubbles: true }));
    radios[1].dispatchEvent(new window.Event("change", { bubbles: true }));
    expect([control.value, inputs, changes]).toEqual(["foldback", ["foldback"], ["foldback"]]);
    expect(control.querySelector("legend")?.textContent).toBe("Limit style");
    expect(unnamed(main)).toEqual([]);
  });

  test("of many is a menu with a label", () => {
    const { window, document, main } = emptyPage();
    const options = Array.from({ length: 9 }, (_, i) => ({ value: `v${i}`, label: `V ${i}` }));
    const control = choice(document, { label: "Scenario", options, value: "v3" });
    main.append(control);
    const select = control.querySelector("select") as HTMLSelectElement;
    expect(select.value).toBe("v3");
    const inputs = heard(control, "input");
    select.value = "v5";
    select.dispatchEvent(new window.Event("input", { bubbles: true }));
    expect([control.value, inputs]).toEqual(["v5", ["v5"]]);
    expect([...unnamed(main), ...brokenIds(main)]).toEqual([]);
  });

  test("set by the page tells nobody, and an unknown word is refused with those that are known", () => {
    const { document } = emptyPage();
    const control = choice(document, { label: "Limit style", options: styles, value: "hiccup" });
    const inputs = heard(control, "input");
    control.value = "latch";
    expect([control.value, inputs]).toEqual(["latch", []]);
    expect(control.querySelector<HTMLInputElement>("input:checked")?.value).toBe("latch");
    expect(() => {
      control.value = "gone";
    }).toThrow("received “gone”; allowed: hiccup, foldback, latch");
    expect(control.value).toBe("latch");
  });

  test("keeps its buttons when an update brings the same options", () => {
    const { document } = emptyPage();
    const control = choice(document, { label: "Limit style", options: styles, value: "hiccup" });
    const before = control.querySelector("input");
    control.update({ options: styles.map((each) => ({ ...each })), value: "latch" });
    expect(control.querySelector("input")).toBe(before);
    control.update({ options: styles.slice(1), value: "latch" });
    expect(control.querySelectorAll("input")).toHaveLength(2);
    expect(() => control.update({ options: styles.slice(0, 1) })).toThrow("allowed: hiccup");
    expect([control.value, control.querySelectorAll("input").length]).toEqual(["latch", 2]);
  });
});

test("a toggle is a labelled checkbox; setting it tells nobody", () => {
  const { document, main } = emptyPage();
  const control = toggle(document, { label: "Nothing protects", value: false, help: "The same line, bare." });
  main.append(control);
  const inputs = heard(control, "input");
  control.value = true;
  control.querySelector("input")?.click();
  expect([control.value, inputs]).toEqual([false, [false]]);
  expect([...unnamed(main), ...brokenIds(main)]).toEqual([]);
});

test("a text field takes what passes its check, and Escape brings the old text back", () => {
  const { window, document, main } = emptyPage();
  const check = (text: string) => (text === "" ? "A name is needed." : null);
  const control = textField(document, { label: "Name", value: "hut", check });
  main.append(control);
  const field = control.querySelector("input") as HTMLInputElement;
  const inputs = heard(control, "input");
  type(window, field, "  ");
  expect([control.value, field.getAttribute("aria-invalid")]).toEqual(["hut", "true"]);
  expect(control.querySelector("[role=alert]")?.textContent).toBe("A name is needed.");
  type(window, field, "", "Escape");
  expect(field.value).toBe("hut");
  type(window, field, "ridge");
  expect([control.value, inputs]).toEqual(["ridge", ["ridge"]]);
  expect([...unnamed(main), ...brokenIds(main)]).toEqual([]);
});

test("a text that takes what is wrong keeps it, with what is wrong below, wherever it is shown again", () => {
  const { window, document, main } = emptyPage();
  const check = (text: string) => (text.length > 5 ? "Too long." : null);
  const control = textField(document, { label: "Headline", value: "short", check, takesWrong: true });
  main.append(control);
  const input = control.querySelector("input") as HTMLInputElement;
  const inputs = heard(control, "input");
  const told = () => [
    input.value,
    input.getAttribute("aria-invalid"),
    control.querySelector("[role=alert]")?.textContent,
  ];
  type(window, input, "much longer");
  expect([control.value, inputs]).toEqual(["much longer", ["much longer"]]);
  expect(told()).toEqual(["much longer", "true", "Too long."]);
  control.update({ value: "other" });
  expect(told()).toEqual(["other", null, ""]);
  control.update({ value: "much longer" });
  expect(told()).toEqual(["much longer", "true", "Too long."]);
});

test("what somebody is typing stays while the value is set from elsewhere, and is taken with Enter", () => {
  const { window, document, main } = emptyPage();
  const control = textField(document, { label: "to", value: "139 µs" });
  main.append(control);
  const field = control.querySelector("input") as HTMLInputElement;
  const changes = heard(control, "change");
  field.focus();
  field.value = "3 ms";
  control.value = "140 µs";
  control.update({ help: "counted from the fault" });
  expect([field.value, control.value]).toEqual(["3 ms", "140 µs"]);
  field.dispatchEvent(new window.KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
  expect([control.value, changes]).toEqual(["3 ms", ["3 ms"]]);
  control.value = "5 ms";
  expect(field.value).toBe("5 ms");
});

test("a text chosen to be typed over stays chosen while another one is put in its place", () => {
  const { document, main } = emptyPage();
  const control = textField(document, { label: "to", value: "9 µs" });
  main.append(control);
  const field = control.querySelector("input") as HTMLInputElement;
  const chosen = () => field.value.slice(field.selectionStart ?? 0, field.selectionEnd ?? 0);
  field.focus();
  field.select();
  control.value = "139 µs";
  expect(chosen()).toBe("139 µs");
  field.setSelectionRange(1, 1);
  control.value = "140 µs";
  expect([chosen(), field.value]).toEqual(["", "140 µs"]);
  field.setSelectionRange(0, 3);
  control.value = "1400 µs";
  expect(chosen()).toBe("");
});

test("a dropped file is the value", () => {
  const { window, document, main } = emptyPage();
  const control = fileButton(document, { label: "Open a scenario file", accept: ".yaml" });
  main.append(control);
  const inputs = heard(control, "input");
  const file = new window.File(["title: x"], "hut.yaml");
  const drop = Object.assign(new window.Event("drop", { bubbles: true, cancelable: true }), {
    dataTransfer: { files: [file] },
  });
  control.dispatchEvent(drop);
  expect([inputs, drop.defaultPrevented]).toEqual([[file], true]);
  expect([...unnamed(main), ...brokenIds(main)]).toEqual([]);
});

test("a button presses", () => {
  const { document } = emptyPage();
  const pressed: HTMLButtonElement[] = [];
  const element = button(document, { label: "Undo", press: (each) => pressed.push(each), kind: "danger" });
  element.click();
  expect(pressed.map((each) => each === element)).toEqual([true]);
  expect(element.getAttribute("type")).toBe("button");
});

test("a button in a line of text keeps numbers with their units", () => {
  const { document } = emptyPage();
  const label = "The crowbar fires, 23.7 µs after the fault";
  const shown = (kind: "quiet" | "plain") => button(document, { label, kind, press: () => {} }).textContent;
  expect([shown("quiet"), shown("plain")]).toEqual([label.replace(" µs", "\u00a0µs"), label]);
});

test("an element takes texts as texts and no scripts as attributes", () => {
  const { document } = emptyPage();
  expect(el(document, "p", {}, "<b>x</b>").innerHTML).toBe("&lt;b&gt;x&lt;/b&gt;");
  expect(() => el(document, "p", { onclick: "alert(1)" })).toThrow("addEventListener");
});
