import { describe, expect, test } from "vitest";
import { lineChoice, lineRange } from "../../../packages/notebooks/src/line/controls.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { shippedLine } from "../../../packages/notebooks/src/line/shipped.ts";
import { emptyPage, slide, type as typeInto } from "../controls/page.ts";

const TRIP = ["crowbar", "trip voltage"];
const own = (text: string) => new Line({ line: { kind: "own", name: "Hut", text }, changes: [], view: {} }, () => 0);
const shipped = (name = "04-foldback") => new Line({ line: { kind: "shipped", name }, changes: [], view: {} }, () => 0);

function tripOf(line: Line) {
  const { window, document, main } = emptyPage();
  const options = { label: "Trip voltage", path: TRIP, dimension: "voltage", min: 14, max: 17, step: 0.1 } as const;
  const control = lineRange(document, line, options);
  main.append(control);
  const slider = control.querySelector<HTMLInputElement>("input[type=range]") as HTMLInputElement;
  const field = control.querySelector<HTMLInputElement>("input[type=text]") as HTMLInputElement;
  const source = () => control.querySelector(".control-source")?.textContent?.replaceAll("\u00a0", " ") ?? "";
  return { window, main, control, slider, field, source };
}

describe("a slider for a value of the line", () => {
  test("shows the value with where it comes from, and writes it into the text", () => {
    const line = shipped();
    const { window, control, slider, source } = tripOf(line);
    expect([control.value, source()]).toEqual([15, expect.stringContaining("from the line's file")]);
    slide(window as never, slider, 13);
    expect(line.now.text).toContain("trip voltage: 15.3 V");
    expect([control.value, source(), line.undoLabel]).toEqual([
      15.3,
      expect.stringContaining("changed here"),
      "Trip voltage: 15.3 V",
    ]);
    line.undo();
    expect([control.value, source()]).toEqual([15, expect.stringContaining("from the line's file")]);
  });

  test("back at its default the text is as it was, byte for byte, and nothing counts as changed", () => {
    const line = own("crowbar: {part: SCR 55 A, trip voltage: 15.0 V} # set at the bench\n");
    const { window, control, slider } = tripOf(line);
    slide(window as never, slider, 20);
    expect(line.now.state.changes.length).toBe(1);
    [...control.querySelectorAll("button")].find((each) => /default|15/.test(each.textContent ?? ""))?.click();
    expect([control.value, line.now.state.changes]).toEqual([15, []]);
    expect(line.now.text).toContain("trip voltage: 15.0 V} # set at the bench");
  });

  test("a default that stands in no file is left out of it again", () => {
    const line = shipped();
    const { document, window, main } = emptyPage();
    const control = lineRange(document, line, {
      label: "Ambient",
      path: ["ambient"],
      dimension: "temperature",
      min: -20,
      max: 60,
      step: 1,
    });
    main.append(control);
    const { value } = control;
    const slider = control.querySelector<HTMLInputElement>("input[type=range]") as HTMLInputElement;
    const there = Number(slider.value);
    slide(window as never, slider, there + 5);
    expect(line.now.text).toMatch(/^ambient: 30 °C$/m);
    slide(window as never, slider, there);
    expect([control.value, line.now.text, line.now.state.changes]).toEqual([
      value,
      shippedLine("04-foldback").text,
      [],
    ]);
  });

  test("a value that was typed is taken with its unit; one without is refused and nothing changes", () => {
    const line = shipped();
    const { window, control, field } = tripOf(line);
    typeInto(window as never, field, "15500 mV");
    expect(line.now.text).toContain("trip voltage: 15.5 V");
    typeInto(window as never, field, "3 A");
    expect([control.value, control.querySelector(".control-problem")?.textContent]).toEqual([
      15.5,
      expect.stringContaining("3\u00a0A"),
    ]);
    typeInto(window as never, field, "16");
    expect(control.querySelector(".control-problem")?.textContent?.replaceAll("\u00a0", " ")).toMatch(
      /The unit is missing.* Type 16 V\. Still 15\.5 V\./,
    );
    expect(control.value).toBe(15.5);
  });

  test("follows another line, is disabled where there is no such value, and comes back", () => {
    const line = shipped();
    const { control, slider, field, source } = tripOf(line);
    line.open({ kind: "own", name: "Bare", text: "crowbar: none\n" });
    // No value is shown that the line does not have, not even as the ends of a range.
    expect([slider.disabled, slider.getAttribute("aria-valuetext"), field.value, source()]).toEqual([
      true,
      "none",
      "–",
      "not in this line",
    ]);
    line.undo();
    expect([slider.disabled, control.value]).toEqual([false, 15]);
  });

  test("stretches to what a line says beyond its range, and a logarithmic one bears even a 0", () => {
    const far = tripOf(own("crowbar: {part: SCR 55 A, trip voltage: 30 V}\n"));
    expect([far.control.value, far.source()]).toEqual([30, expect.stringContaining("14 V to 30 V")]);
    const { document } = emptyPage();
    const line = own("sources:\n  - kind: linear regulator\n    output capacitance: 0 F\n");
    const path = ["sources", 0, "output capacitance"];
    const control = lineRange(document, line, {
      label: "Capacitance",
      path,
      dimension: "capacitance",
      min: 1e-6,
      max: 0.1,
    });
    expect(control.value).toBe(0);
    expect(control.innerHTML).not.toContain("NaN");
  });

  test("what the text cannot take is not shown as if it were so", () => {
    const line = shipped();
    const { document, window } = emptyPage();
    const changes = () => [[["crowbar"], "{nonsense"]] as const;
    const options = {
      label: "Trip voltage",
      path: TRIP,
      dimension: "voltage",
      min: 14,
      max: 17,
      step: 0.1,
      changes,
    } as const;
    const control = lineRange(document, line, options);
    slide(window as never, control.querySelector("input[type=range]") as HTMLInputElement, 25);
    expect([control.value, line.now.refused.length > 0, line.now.state.changes]).toEqual([15, true, []]);
  });
});

describe("a choice between forms of the line", () => {
  const fuses = ["15", "25"].map((amps) => ({
    value: amps,
    label: `${amps} A`,
    changes: [[["main fuse"], `blade fuse ${amps} A`] as const],
  }));
  const current = ({ text }: Line["now"]) => /blade fuse (\d+) A/.exec(text)?.[1] ?? null;

  test("shows which one the line stands at, and changes to another", () => {
    const line = shipped();
    const { document, main } = emptyPage();
    const control = lineChoice(document, line, { label: "Main fuse", options: fuses, current, as: "list" });
    main.append(control);
    const radios = () => [...control.querySelectorAll<HTMLInputElement>("input")];
    radios()[0]?.click();
    expect([line.now.text.includes("blade fuse 15 A"), line.undoLabel]).toEqual([true, "Main fuse: 15 A"]);
    expect([control.value, radios().length]).toEqual(["15", 2]);
    line.set("other", [[["main fuse"], "blade fuse 10 A"]]);
    expect(radios().at(-1)?.disabled).toBe(true);
    expect(control.textContent).toContain("as in the file");
    line.undo();
    expect([control.value, radios().length]).toEqual(["15", 2]);
  });
});
