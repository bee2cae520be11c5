import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { violations } from "./support/accessible.ts";
import { contrastOf } from "./support/contrast.ts";
import { openDesk } from "./support/desk.ts";
import { tabThrough } from "./support/keyboard.ts";
import { settled } from "./support/settled.ts";

const closeDialog = async (page: Page): Promise<void> => {
  await page.keyboard.press("Escape");
  await page.getByRole("dialog").waitFor({ state: "detached" });
};
const savedAs = (page: Page) =>
  page.getByRole("figure", { name: "What the radio saw", exact: true }).locator("summary");

/** Whatever opens over a page, how a person opens it, and closes it before the next one. */
const opened: readonly (readonly [
  what: string,
  open: (page: Page) => Promise<void>,
  close?: (page: Page) => Promise<void>,
])[] = [
  ["the list of lines", (page) => page.getByRole("button", { name: /choose another line$/ }).click(), closeDialog],
  ["the question for a name", (page) => page.getByRole("button", { name: "Save", exact: true }).click(), closeDialog],
  ["what a picture is saved as", (page) => savedAs(page).click(), (page) => savedAs(page).click()],
  [
    "what was changed",
    async (page) => {
      await page.getByRole("combobox", { name: "Main fuse" }).selectOption("blade fuse 10 A");
      await settled(page);
      await page.locator("details.changes > summary").click();
    },
  ],
  [
    "a notice and all that can be unfolded",
    async (page) => {
      await page.goto(`${page.url().split("#")[0]}#v=1&line=no-such-line`);
      await page.reload();
      await settled(page);
      await page.evaluate(() => {
        for (const fold of document.querySelectorAll<HTMLDetailsElement>("main details:not(.menu)")) fold.open = true;
      });
    },
  ],
];

describe.skipIf(withoutBrowser())("what opens over a page", () => {
  const desk = openDesk();

  test.each([
    ["a laptop in the dark", 1024, "dark"],
    ["a telephone", 390, "light"],
  ] as const)(
    "is for everybody on %s, one after the other",
    async (_, width, colorScheme) => {
      const { page, wrong } = await desk.visit("regulator-fails.html", { width, colorScheme });
      for (const [what, open, close] of opened) {
        await open(page);
        await settled(page);
        expect(await violations(page), what).toEqual([]);
        expect((await contrastOf(page, 4.5)).poor, what).toEqual([]);
        const beyond = await page.evaluate(() =>
          [...document.querySelectorAll("dialog[open], details[open] > .menu-list, .notice")]
            .map((each) => ({ name: each.className, box: each.getBoundingClientRect() }))
            .filter(({ box }) => box.left < -1 || box.right > innerWidth + 1)
            .map(({ name, box }) => `${name} from ${box.left} to ${box.right}`),
        );
        expect(beyond, what).toEqual([]);
        await close?.(page);
      }
      expect(wrong()).toEqual([]);
    },
    60_000,
  );

  test("a dialog keeps the keyboard, closes by Escape, and gives the focus back", async () => {
    const { page, wrong } = await desk.visit("regulator-fails.html");
    const name = page.getByRole("button", { name: /choose another line$/ });
    await name.focus();
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog", { name: "Choose a line" });
    await dialog.waitFor();
    const stops = await tabThrough(page, 8);
    expect(stops.filter(({ problems }) => problems.length > 0)).toEqual([]);
    expect(await dialog.evaluate((element) => element.contains(document.activeElement))).toBe(true);
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "detached" });
    expect(await name.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(wrong()).toEqual([]);
  });
});
