import { type Position, runScenario } from "@railfault/sim";
import { describe, expect, test, vi } from "vitest";
import { issuesView, progressView, statusLine } from "../../../packages/notebooks/src/show/index.ts";
import { emptyPage } from "../controls/page.ts";
import { plain } from "./fixtures.ts";

const refused = (text: string) => {
  const result = runScenario(text, "hut.yaml");
  if (result.kind !== "refused") throw new Error("not refused");
  return result.issues;
};

describe("problems of a scenario", () => {
  const issues = refused(`title: "<img src=x onerror=alert(1)>"\nfault at: 20 V\nsources: []\nmain fus: 3\n`);

  test("are told with place, received, allowed and what helps, all at once", () => {
    const view = issuesView(emptyPage().document);
    view.show(issues);
    const said = plain(view.element.textContent);
    expect(issues.length).toBeGreaterThan(3);
    for (const { message, received, allowed, hint } of issues) {
      for (const text of [message, received, allowed, hint]) if (text !== null) expect(said).toContain(plain(text));
    }
    expect(said).toContain("hut.yaml:2:");
    expect(view.element.querySelector("h3")?.textContent).toBe(`${issues.length} problems: this scenario was not run`);
    expect(view.element.querySelector("img")).toBeNull();
  });

  test("lead to their place", () => {
    const places: Position[] = [];
    const view = issuesView(emptyPage().document, { go: (position) => places.push(position) });
    view.show(issues);
    for (const place of view.element.querySelectorAll<HTMLButtonElement>("button.place")) place.click();
    expect(places).toEqual(issues.flatMap(({ position }) => (position === null ? [] : [position])));
  });

  test("mark what is meant in their line, also in a long one", () => {
    const long = `fault at: ${"9".repeat(300)} V # ${"x".repeat(300)}`;
    const view = issuesView(emptyPage().document);
    view.show(refused(`${long}\n`).filter(({ position }) => position?.line === 1 && position.excerpt === long));
    const pre = view.element.querySelector("pre");
    expect(pre?.querySelector("mark")?.textContent).not.toBe("");
    expect(pre?.textContent?.endsWith("…")).toBe(true);
  });

  test("are gone when there are none", () => {
    const view = issuesView(emptyPage().document);
    view.show(issues);
    view.show([]);
    expect([view.element.hidden, view.element.querySelectorAll("li").length]).toEqual([true, 0]);
  });
});

test("progress shows only after a moment, keeps its place and stops", () => {
  vi.useFakeTimers();
  const stop = vi.fn();
  const { element, show, done } = progressView(emptyPage().document, { stop });
  const idle = () => element.hasAttribute("data-idle");
  show(1, 10);
  expect(idle()).toBe(true);
  vi.advanceTimersByTime(300);
  show(2.5, 10);
  expect([idle(), element.querySelector("progress")?.value]).toEqual([false, 0.25]);
  expect(plain(element.textContent)).toContain("2.5 s of 10 s");
  element.querySelector("button")?.click();
  expect(stop).toHaveBeenCalledOnce();
  done();
  vi.advanceTimersByTime(1000);
  expect(idle()).toBe(true);
  vi.useRealTimers();
});

test("the status line says the newest message and falls silent", () => {
  vi.useFakeTimers();
  const status = statusLine(emptyPage().document);
  status.say("Saved.");
  status.say("<b>Copied</b>");
  expect(status.element.textContent).toBe("<b>Copied</b>");
  vi.advanceTimersByTime(20_000);
  expect(status.element.textContent).toBe("");
  vi.useRealTimers();
});
