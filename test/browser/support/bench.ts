import type { Page } from "playwright-core";
import { expect } from "vitest";
import { settled } from "./settled.ts";

/** What a reader has before them on a page with a verdict, a slider and pictures. */
export function benchOn(page: Page) {
  const plain = (text: string): string => text.replace(/\s+/g, " ").trim();
  return {
    slider: (label: string) => page.getByRole("slider", { name: label, exact: true }),
    field: (label: string) => page.getByLabel(`${label}: type a value`),
    menu: (label: string) => page.getByRole("combobox", { name: label, exact: true }),
    /** Tag and sentence. */
    verdict: async (name = "Verdict"): Promise<string> =>
      plain(await page.getByRole("region", { name, exact: true }).getByRole("status").innerText()),
    /** A picture as it is drawn now. */
    picture: async (name: string): Promise<string> => {
      const drawn = page.getByRole("figure", { name, exact: true }).locator(".figure-picture > svg").first();
      // Its ids are new with each visit.
      return (await drawn.innerHTML()).replace(/figure-[0-9a-z]+/g, "figure");
    },
    /** The peak that the verdict's sentence tells, V. */
    volts: async (): Promise<number> => {
      const text = plain(await page.getByRole("region", { name: "Verdict", exact: true }).innerText());
      const found = /([\d.]+) V/.exec(text)?.[1];
      expect(found, `no volts in the verdict “${text}”`).toBeDefined();
      return Number(found);
    },
    /** The notice with these words in its title, as text. */
    notice: async (title: RegExp): Promise<string> => {
      const box = page.locator(".notice").filter({ hasText: title });
      await box.first().waitFor();
      return plain(await box.first().innerText());
    },
    /** What was said at the foot of the window. */
    said: (text: RegExp) => page.locator(".status-line").filter({ hasText: text }).waitFor({ state: "attached" }),
    button: (name: string | RegExp) =>
      page.getByRole("button", typeof name === "string" ? { name, exact: true } : { name }),
    /** `within`: the part of the page that counts. */
    settled: (within?: string) => settled(page, undefined, within),
  };
}
