import type { Page } from "playwright-core";
import { expect } from "vitest";
import { violations } from "./accessible.ts";
import { contrastOf } from "./contrast.ts";
import type { Desk } from "./desk.ts";
import { settled } from "./settled.ts";

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

/** Opens each in its turn: everybody can use it, and it stays within the window. */
export async function everythingThatOpens(desk: Desk, width: number, colorScheme: "light" | "dark"): Promise<void> {
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
}
