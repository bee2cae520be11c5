import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { violations } from "./support/accessible.ts";
import { contrastOf } from "./support/contrast.ts";
import { openDesk } from "./support/desk.ts";
import { tabThrough } from "./support/keyboard.ts";
import { settled } from "./support/settled.ts";

/** Whatever opens over a page, and how a person opens it. */
const opened: readonly (readonly [what: string, open: (page: Page) => Promise<void>])[] = [
  ["the list of lines", (page) => page.getByRole("button", { name: /choose another line$/ }).click()],
  ["the question for a name", (page) => page.getByRole("button", { name: "Save", exact: true }).click()],
  [
    "what a picture is saved as",
    (page) => page.getByRole("figure", { name: "What the radio saw", exact: true }).locator("summary").click(),
  ],
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

  test.each(opened)(
    "%s: for everybody, on a laptop in the dark and on a telephone",
    async (_, open) => {
      for (const [width, colorScheme] of [
        [1024, "dark"],
        [390, "light"],
      ] as const) {
        const { page, wrong } = await desk.visit("regulator-fails.html", { width, colorScheme });
        await open(page);
        await settled(page);
        expect(await violations(page)).toEqual([]);
        expect((await contrastOf(page, 4.5)).poor).toEqual([]);
        const beyond = await page.evaluate(() =>
          [...document.querySelectorAll("dialog[open], details[open] > .menu-list, .notice")]
            .map((each) => ({ name: each.className, box: each.getBoundingClientRect() }))
            .filter(({ box }) => box.left < -1 || box.right > innerWidth + 1)
            .map(({ name, box }) => `${name} from ${box.left} to ${box.right}`),
        );
        expect(beyond, `at ${width} px`).toEqual([]);
        expect(wrong()).toEqual([]);
      }
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
