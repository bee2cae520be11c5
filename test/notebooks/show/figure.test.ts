import { csvLines } from "@railfault/sim";
import { faultFigure, figureData, type WaveformData } from "@railfault/sim/figures";
import { describe, expect, test } from "vitest";
import { svgFile } from "../../../packages/notebooks/src/show/export.ts";
import { faultView, figurePlace, fileName, timeViewStore } from "../../../packages/notebooks/src/show/index.ts";
import { around, closeTo, suggestedRange, wholeRun, within } from "../../../packages/notebooks/src/show/windows.ts";
import { unbroken } from "../../../packages/notebooks/src/show/words.ts";
import { brokenIds, emptyPage, type, unnamed } from "../controls/page.ts";
import { answered, plain } from "./fixtures.ts";

const { run, verdict } = answered("01-shorted-pass-transistor");
const data = figureData(run, verdict);

/** A page in which frames come when the test says so. */
function framedPage() {
  const page = emptyPage();
  const frames: (() => void)[] = [];
  page.window.requestAnimationFrame = (frame) => frames.push(() => frame(0));
  page.window.cancelAnimationFrame = () => {};
  // What is put off until the caller is done comes before a frame.
  const tick = async () => {
    await Promise.resolve();
    for (const frame of frames.splice(0)) frame();
  };
  return { ...page, frames, tick };
}

describe("a place for a figure", () => {
  test("draws the newest data only, once a frame, and keeps the old picture until then", async () => {
    const { document, tick } = framedPage();
    const drawn: string[] = [];
    const place = figurePlace<string>(document, {
      label: "Words",
      draw: (text, options) => {
        drawn.push(text);
        return faultFigure(data, options);
      },
    });
    place.show("a");
    place.show("b");
    await tick();
    expect(drawn).toEqual(["b"]);
    const first = place.picture.querySelector("svg");
    place.show("c");
    expect(place.picture.querySelector("svg")).toBe(first);
    place.show("d");
    await tick();
    expect([drawn, place.picture.querySelectorAll("svg").length]).toEqual([["b", "d"], 1]);
    expect(place.picture.querySelector("svg")).not.toBe(first);
  });

  test("gives back what was kept too much for its first picture, but for one in sight", async () => {
    const kept = async (top: number) => {
      const { document, tick } = framedPage();
      const place = figurePlace(document, { label: "x", draw: faultFigure, reserve: () => 2000 });
      place.picture.getBoundingClientRect = () => ({ top }) as DOMRect;
      place.show(data);
      await tick();
      return Number.parseInt(place.picture.style.getPropertyValue("--reserve"), 10);
    };
    expect(await kept(100)).toBe(2000);
    expect(await kept(5000)).toBeLessThan(1000);
  });

  test("draws anew for the other scheme, and light for paper", async () => {
    const { document, tick, window } = framedPage();
    const schemes: unknown[] = [];
    const place = figurePlace(document, {
      label: "x",
      data,
      draw: (of: WaveformData, options) => {
        schemes.push(options.scheme);
        return faultFigure(of, options);
      },
    });
    await tick();
    document.documentElement.dataset["scheme"] = "dark";
    await Promise.resolve();
    await tick();
    expect(schemes).toEqual(["light", "dark"]);
    window.dispatchEvent(new window.Event("beforeprint"));
    window.dispatchEvent(new window.Event("afterprint"));
    expect(schemes).toEqual(["light", "dark", "light", "dark"]);
    place.leave();
    window.dispatchEvent(new window.Event("beforeprint"));
    expect(schemes).toHaveLength(4);
  });

  test("says so when a picture cannot be drawn, and draws the next one", async () => {
    const { document, tick } = framedPage();
    const place = figurePlace(document, { label: "x", draw: (of: WaveformData, options) => faultFigure(of, options) });
    place.show({ ...data, time: new Float64Array(0) });
    await tick();
    expect(place.picture.querySelector("[role=alert]")?.textContent).toContain("could not be drawn");
    place.show(data);
    await tick();
    expect([
      place.picture.querySelectorAll("svg").length,
      place.picture.querySelectorAll("[role=alert]").length,
    ]).toEqual([1, 0]);
  });

  test("offers every file and hides the data where there are none", async () => {
    const { document, main, window } = framedPage();
    const place = figurePlace(document, { label: "x", data, draw: faultFigure });
    main.append(place.element);
    const menu = place.element.querySelector("details") as HTMLDetailsElement;
    menu.dispatchEvent(new window.Event("toggle"));
    const buttons = [...menu.querySelectorAll("button")];
    expect(buttons.filter(({ hidden }) => hidden).map(({ firstChild }) => firstChild?.textContent)).toEqual([
      "Data as CSV",
      "Copy data",
    ]);
    expect(buttons).toHaveLength(8);
    expect(unnamed(main)).toEqual([]);
  });
});

describe("a view of a fault", () => {
  const open = async () => {
    const page = framedPage();
    const seen = faultView(page.document, { label: "What the radio saw", csv: () => csvLines(run.trace) });
    page.main.append(seen.element);
    seen.show(data);
    await page.tick();
    const numbers = [...seen.element.querySelectorAll<HTMLButtonElement>(".event-numbers button")];
    const note = () => plain(seen.element.querySelector(".event-text")?.textContent);
    return { ...page, seen, numbers, note };
  };

  test("begins with the first important event after the fault", async () => {
    const { note, numbers } = await open();
    expect(note()).toContain("the crowbar fires");
    expect(numbers.map((each) => each.getAttribute("aria-pressed"))).toEqual([
      "false",
      "true",
      "false",
      "false",
      "false",
    ]);
  });

  test("explains the event that is focused, and looks closer at the one that is pressed", async () => {
    const { numbers, note, seen, tick } = await open();
    numbers[2].focus();
    expect(note()).toContain(plain(data.events[2].explanation));
    numbers[2].click();
    const [from, to] = seen.view.now.range ?? [0, 0];
    expect(from < data.events[2].time && data.events[2].time < to).toBe(true);
    await tick();
    expect(seen.element.querySelectorAll(".figure-picture > svg")).toHaveLength(2);
  });

  test("reads values by arrow keys, and Escape goes back", async () => {
    const { seen, window } = await open();
    const handle = seen.element.querySelector(".figure-time") as HTMLElement;
    const press = (key: string) =>
      handle.dispatchEvent(new window.KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
    press("End");
    expect(seen.view.now.pointer).toBeCloseTo(wholeRun(data)[1], 9);
    expect(handle.getAttribute("aria-valuetext")).toContain("relay radio");
    expect(handle.getAttribute("aria-valuenow")).toBe("1000");
    seen.view.set({ range: [0.02, 0.021] });
    press("Escape");
    expect(seen.view.now).toMatchObject({ range: null, pointer: null });
  });

  test("takes a close-up from its two fields, in times after the fault", async () => {
    const { seen, window } = await open();
    const [from, to] = [...seen.element.querySelectorAll<HTMLInputElement>(".zoom-ends input")];
    const leave = (field: HTMLInputElement, text: string) => type(window, field, text);
    leave(from, "-5 µs");
    leave(to, "2 ms");
    expect(seen.view.now.range?.map((time) => time - data.faultTime)).toEqual([
      expect.closeTo(-5e-6, 12),
      expect.closeTo(2e-3, 12),
    ]);
    leave(to, "2 V");
    expect(to.getAttribute("aria-invalid")).toBe("true");
    expect(seen.view.now.range?.[1]).toBeCloseTo(data.faultTime + 2e-3, 12);
  });

  test("counts a close-up far from the fault from the event in it, and loses nothing of the other end", async () => {
    const creep = answered("08-charger-creep");
    const { seen, window, tick } = await open();
    seen.show(figureData(creep.run, creep.verdict));
    await tick();
    const [from, to] = [...seen.element.querySelectorAll<HTMLInputElement>(".zoom-ends input")];
    expect(plain(seen.element.querySelector(".zoom-counted")?.textContent)).toContain("the crowbar fires");
    const end = suggestedRange(figureData(creep.run, creep.verdict))[1];
    type(window, from, "-100 µs");
    expect(seen.view.now.range?.[1]).toBe(end);
    expect(plain(from.value)).toBe("−100 µs");
    expect(to.value).not.toBe(from.value);
  });

  test("keeps the event in hand when another run has its like", async () => {
    const { seen, numbers, note, tick } = await open();
    numbers[3].focus();
    const later = { ...data, events: data.events.filter((_, i) => i !== 2) };
    seen.show(later);
    await tick();
    expect(note()).toContain(plain(data.events[3].label));
  });

  test("names everything a person can use, with ids that stand once", async () => {
    const { main } = await open();
    expect([...unnamed(main), ...brokenIds(main)]).toEqual([]);
  });
});

describe("windows of time", () => {
  test("lie inside the run, ends in order", () => {
    const [first, last] = wholeRun(data);
    expect(within(data, [last + 1, first - 1])).toEqual([first, last]);
    expect(within(data, [0.1, 0.1])).toBeNull();
  });

  test("suggested ones show the fault and the first happening apart", () => {
    const [from, to] = suggestedRange(data);
    const fires = data.events[1].time;
    expect(from < data.faultTime && fires < to).toBe(true);
    expect((fires - data.faultTime) / (to - from)).toBeGreaterThan(0.15);
    expect(suggestedRange({ ...data, events: [] })).toEqual(wholeRun(data));
  });

  test("suggested ones show the microseconds of a trip that comes after hours", () => {
    const creep = answered("08-charger-creep");
    const slow = figureData(creep.run, creep.verdict);
    const fires = slow.events.find(({ label }) => label === "the crowbar fires")?.time ?? 0;
    const [from, to] = suggestedRange(slow);
    expect(fires - slow.faultTime).toBeGreaterThan(3600);
    expect(from < fires && fires < to).toBe(true);
    expect(to - from).toBeLessThan(1);
  });

  test("around an event it is in the middle", () => {
    const [from, to] = around(data, 2, 1e-3) ?? [0, 0];
    expect((from + to) / 2).toBeCloseTo(data.events[2].time, 9);
    const close = closeTo(data, 1, [0, 1]);
    expect(close[1] - close[0]).toBeCloseTo(2e-5, 9);
  });

  test("a closer look at one that is seen closely already is closer still", () => {
    const late = { ...data, faultTime: 0, time: Float64Array.from([0, 2]), events: [{ ...data.events[1], time: 1 }] };
    const width = (seen: readonly [number, number]) => {
      const [from, to] = closeTo(late, 0, seen);
      expect((from + to) / 2).toBeCloseTo(1, 9);
      return to - from;
    };
    // A fifth of the second since the fault on each side.
    expect(width([0, 2])).toBeCloseTo(0.4, 9);
    expect(width([1.2, 1.21])).toBeCloseTo(0.4, 9);
    expect(width([0.999, 1.005])).toBeCloseTo(0.003, 9);
  });
});

test("a store tells watchers of changes only", () => {
  const store = timeViewStore({ scale: "linear" });
  const told: unknown[] = [];
  const stop = store.watch((now, before) => told.push([before.event, now.event]));
  store.set({ event: 1 });
  store.set({ event: 1 });
  stop();
  store.set({ event: 2 });
  expect([told, store.now.scale]).toEqual([[[null, 1]], "linear"]);
});

test("a saved picture is a file of its own", () => {
  const { document, window } = emptyPage();
  const text = svgFile(faultFigure({ ...data, title: "<script>alert(1)</script> & more" }, { document }));
  const parsed = new window.DOMParser().parseFromString(text, "image/svg+xml");
  expect([
    parsed.documentElement.namespaceURI,
    parsed.querySelector("parsererror"),
    parsed.querySelector("script"),
  ]).toEqual(["http://www.w3.org/2000/svg", null, null]);
});

test.each([
  ["Shorted pass transistor: headroom", "shorted-pass-transistor-headroom.svg"],
  ["../../etc/passwd", "etc-passwd.svg"],
  ["Überspannung ½", "uberspannung-1-2.svg"],
  ["漢字", "figure.svg"],
  ["a".repeat(200), `${"a".repeat(80)}.svg`],
])("%s is saved under a harmless name", (title, name) => {
  expect(fileName(title, "svg")).toBe(name);
});

test.each([
  ["14.7 V for 989 ms", "14.7\u00a0V for 989\u00a0ms"],
  ["2 radios and 3 Volts", "2 radios and 3 Volts"],
  ["a lead of 4 mm² and 2 m, 0.6 V/h", "a lead of 4\u00a0mm² and 2\u00a0m, 0.6\u00a0V/h"],
  ["-20 °C to 50 °C, from 1-2 to 5", "−20\u00a0°C to 50\u00a0°C, from 1-2 to 5"],
  ["895 A²s, 25 °C, 43.9 A/µs", "895\u00a0A²s, 25\u00a0°C, 43.9\u00a0A/µs"],
])("%s keeps its units", (text, expected) => {
  expect(unbroken(text)).toBe(expected);
});
