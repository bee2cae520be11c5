import type { Locator } from "playwright-core";
import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("start", () => {
  const desk = openDesk();

  test("each page has a card, all of which answers, and each of whose addresses is understood", async () => {
    const { page } = await desk.visit("index.html");
    const named = (links: Locator) =>
      links.evaluateAll((all) => all.map((link) => new URL((link as HTMLAnchorElement).href).pathname));
    const cards = page.locator("main ul.cards").first();
    const targets = await named(cards.getByRole("link"));
    const pages = await named(page.getByRole("navigation", { name: "Pages" }).getByRole("link"));
    expect([...targets, new URL(page.url()).pathname].sort()).toEqual(pages.sort());
    const hiccups = cards.locator("li").filter({ hasText: "hiccups" });
    const links = await page
      .locator(".card a")
      .evaluateAll((all) => all.map((link) => link.getAttribute("href") ?? ""));
    expect(links.length).toBeGreaterThan(6);
    for (const link of links.filter((each) => each.includes("#"))) {
      const visit = await desk.visit(link.replace("./", ""), { settle: false });
      // What the page computes of its line says nothing about its address.
      await benchOn(visit.page).settled(".work-bar");
      expect(await visit.page.locator(".notice:visible").allInnerTexts(), link).toEqual([]);
      await visit.leave();
    }
    // Not only its words.
    await hiccups.click({ position: { x: 12, y: 12 } });
    await page.waitForURL(/hiccup\.html/);
  }, 60_000);

  test("a kept line opens where its sliders are, under its own name, however hostile", async () => {
    const name = "<b>hut</b> & more";
    const context = await desk.context();
    const first = await desk.visit("regulator-fails.html", { context });
    await first.page.getByRole("button", { name: "Save", exact: true }).click();
    const dialog = first.page.getByRole("dialog");
    await dialog.getByRole("textbox").fill(name);
    await dialog.getByRole("button", { name: /^Save/ }).click();
    await first.page.locator(".status-line", { hasText: "hut" }).waitFor({ state: "attached" });
    const { page } = await desk.visit("index.html", { context });
    await page.getByRole("button", { name: `Open “${name}”` }).click();
    await page.waitForURL(/regulator-fails\.html#/);
    await benchOn(page).settled();
    expect(await page.locator("main").innerText()).toContain(name);
    expect(await benchOn(page).verdict()).toMatch(/^Radio safe /);
  });
});
