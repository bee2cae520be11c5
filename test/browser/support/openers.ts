import type { Page } from "playwright-core";
import { expect } from "vitest";
import { benchOn } from "./bench.ts";
import type { Desk, VisitOptions } from "./desk.ts";
import { textOn } from "./text-on.ts";

// How a page is opened, and what is read off it, by the daily tests and the deep ones alike.

export const STYLES = ["Constant current", "Foldback", "Hiccup", "Latch-off", "No limit"];

/** Verdict, sliders and the five pictures: what the page computes below them is not waited for. */
const BENCH = ".bench";

/** What each small picture says below it: of the line, of the radio. */
export async function outcomes(page: Page): Promise<Record<string, readonly string[]>> {
  const told: [string, readonly string[]][] = [];
  for (const style of STYLES)
    told.push([
      style,
      (await page.getByRole("article", { name: style, exact: true }).locator("dd strong").allInnerTexts()).slice(0, 2),
    ]);
  return Object.fromEntries(told);
}

export async function openHiccup(desk: Desk, options: VisitOptions = {}) {
  const visit = await desk.visit("hiccup.html", { ...options, settle: false });
  const bench = benchOn(visit.page);
  await bench.settled(BENCH);
  return { ...visit, ...bench, settled: () => bench.settled(BENCH), allSettled: () => bench.settled() };
}

/** Where the trip point belongs: with the answer and the window in it. */
export async function openTrip(desk: Desk, path = "trip.html") {
  const visit = await desk.visit(path);
  const bench = benchOn(visit.page);
  const answer = () => bench.verdict("Where the trip point belongs");
  /** The window of the answer, V. */
  const width = async (): Promise<number> => {
    const found = /between ([\d.]+) V and ([\d.]+) V/.exec(await answer());
    return found === null ? 0 : Number(found[2]) - Number(found[1]);
  };
  await expect.poll(answer, { timeout: 20_000 }).not.toMatch(/^Computing/);
  return { ...visit, ...bench, answer, width };
}

/** The file behind a line, its text in sight. */
export async function openText(desk: Desk, hash = "") {
  const visit = await desk.visit(`file.html${hash}`);
  const text = textOn(visit.page);
  await text.field.waitFor();
  // Only what is in sight is drawn as lines.
  await text.field.evaluate((element) => element.scrollIntoView({ block: "center" }));
  await expect.poll(async () => (await text.lines()).length).toBeGreaterThan(20);
  return { ...visit, ...benchOn(visit.page), ...text };
}

/** A page with a line in hand; what it asks in a dialog of the browser's own is noted and refused. */
export async function openAsked(desk: Desk) {
  const visit = await desk.visit("regulator-fails.html");
  const dialogs: string[] = [];
  visit.page.on("dialog", (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  return { ...visit, ...benchOn(visit.page), dialogs };
}

/** A page with a line in hand that is changed and saved. */
export async function openToSave(desk: Desk, options: VisitOptions = {}) {
  const visit = await desk.visit("regulator-fails.html", options);
  const dialog = (name: string | RegExp) => visit.page.getByRole("dialog", { name });
  const bench = benchOn(visit.page);
  return {
    ...visit,
    ...bench,
    dialog,
    set: async (label: string, value: string) => {
      await bench.field(label).fill(value);
      await bench.field(label).press("Enter");
      await bench.settled();
    },
    saveUnder: async (name: string) => {
      await bench.button("Save").click();
      await dialog("Save this line").getByLabel("Name").fill(name);
      await dialog("Save this line").getByRole("button", { name: "Save" }).click();
    },
  };
}

/** Slides of the club's page as its list tells them; there numbers keep to their units by a no-break space. */
export const headlines = async (page: Page): Promise<string[]> =>
  (await page.locator(".club-slides li > .quiet").allInnerTexts()).map((text) => text.replaceAll("\u00a0", " "));
export const slideCount = (page: Page): Promise<string> => page.locator(".club-count").innerText();
export const slideTitle = (page: Page): Promise<string | null> =>
  page.getByRole("figure", { name: "Slide" }).locator("svg > title").first().textContent();

export async function chooseLine(page: Page, name: RegExp): Promise<void> {
  await page.getByRole("button", { name: /choose another line$/ }).click();
  const dialog = page.getByRole("dialog", { name: "Choose a line" });
  await dialog.getByRole("button", { name }).first().click();
  await dialog.waitFor({ state: "detached" });
}

/** Rows of the figures of a capture. */
export async function captureFigures(page: Page): Promise<string[]> {
  const rows = await page.getByRole("region", { name: "Figures of the capture" }).getByRole("row").allInnerTexts();
  return rows.map((row) => row.replaceAll("\u00a0", " "));
}
export const inHand = (page: Page, file: string) => page.getByText(`In hand: ${file}`, { exact: true }).waitFor();
export const problemsOf = (page: Page) => page.locator(".capture-problems");
