import { readdirSync, readFileSync } from "node:fs";
import { benchCard, cardHtml, resetHtml, resetSheet, runScenario } from "@railfault/sim";
import { handoutHtml } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import type { Browser, Page } from "playwright-core";
import { expect } from "vitest";
import { shipped } from "../../cli/launch.ts";
import { watchedPage } from "../../support/browser.ts";

export const everyShipped = (): readonly string[] => readdirSync(shipped("")).filter((each) => each.endsWith(".yaml"));

/** Pages of the PDF that the browser makes of it. */
export async function sheets(page: Page): Promise<number> {
  const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
  return (pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
}

export function answered(name: string) {
  const result = runScenario(readFileSync(shipped(name), "utf8"), name);
  if (result.kind === "refused") throw new Error(`${name} was refused`);
  return result;
}

/** Card, reset sheet and handout of each. */
export async function onOneSideEach(browser: Browser, names: readonly string[]): Promise<void> {
  const { document } = new JSDOM("").window;
  const { page, complaints, foreign } = await watchedPage(browser, "file:");
  const many: string[] = [];
  for (const name of names) {
    const card = benchCard(readFileSync(shipped(name), "utf8"), name);
    const result = answered(name);
    const pages = {
      ...(card.kind === "card" ? { card: cardHtml(card.card) } : {}),
      reset: resetHtml(resetSheet(result)),
      handout: handoutHtml(result, { document }),
    };
    for (const [kind, html] of Object.entries(pages)) {
      await page.setContent(html);
      const count = await sheets(page);
      if (count !== 1) many.push(`${kind} of ${name}: ${count}`);
    }
  }
  expect(many).toEqual([]);
  expect([complaints, foreign]).toEqual([[], []]);
  await page.close();
}
