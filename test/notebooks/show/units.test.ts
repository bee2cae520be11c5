import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { el, setText, unitsKept } from "../../../packages/notebooks/src/controls/index.ts";
import { progressView } from "../../../packages/notebooks/src/show/progress.ts";
import { statusLine } from "../../../packages/notebooks/src/show/status.ts";

const { document } = new JSDOM().window;

describe("a number stays on one line with its unit", () => {
  test.each([
    ["charged to 13.8 V", "charged to 13.8~V"],
    ["4 mm² and 16 mm²", "4~mm² and 16~mm²"],
    ["4.06 A²s", "4.06~A²s"],
    ["within ± 700 µs", "within ±~700~µs"],
    ["14.73 V ± 0.03 V", "14.73~V ±~0.03~V"],
    ["2 Vikings, 3 Amps, 5 samples", "2 Vikings, 3 Amps, 5 samples"],
  ])("%s", (text, kept) => {
    expect(unitsKept(text)).toBe(kept.replaceAll("~", "\u00a0"));
    expect(unitsKept(unitsKept(text))).toBe(unitsKept(text));
  });

  test.each(["p", "li", "td", "th", "span", "strong", "summary"] as const)("in every <%s> of a page", (tag) => {
    const made = el(document, tag, {}, "battery charged to 13.8 V");
    expect(made.textContent).toBe("battery charged to 13.8\u00a0V");
    setText(made, "peak 16.05 V");
    expect(made.textContent).toBe("peak 16.05\u00a0V");
  });

  test("in what is said of a run on its way, and of what was done", () => {
    const progress = progressView(document, { stop: () => {} });
    progress.show(1.2, 10);
    expect(progress.element.textContent).toContain("1.2\u00a0s of 10\u00a0s computed");
    progress.done();
    const status = statusLine(document);
    status.say("Trip voltage is 15 V.");
    expect(status.element.textContent).toBe("Trip voltage is 15\u00a0V.");
  });

  test("what is copied, typed or chosen has its text untouched", () => {
    for (const tag of ["pre", "code", "textarea", "option"] as const)
      expect(el(document, tag, {}, "trip voltage: 15 V").textContent).toBe("trip voltage: 15 V");
  });
});
