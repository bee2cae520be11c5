import { expect } from "vitest";
import { benchOn } from "./bench.ts";
import type { Desk } from "./desk.ts";

/** Addresses that nobody would write, or only to do harm; the first ones are tried every day. */
export const hostile: readonly (readonly [what: string, hash: string])[] = [
  ["markup for a line", "#v=1&line=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E"],
  ["broken escapes", "#v=1&line=%E0%A4%A"],
  ["far too much", `#v=1&line=${"a".repeat(20_000)}`],
  ["a line that there is not", "#v=1&line=no-such-line"],
  ["another version", "#v=99&line=04-foldback"],
  ["a text that cannot be unpacked", "#v=1&own=mine&text=%21%21%21"],
  ["names of the language's own", "#v=1&line=__proto__&view.__proto__=1&set.constructor.prototype=1"],
  ["a script's address", "#v=1&line=javascript:alert(1)&view.compare=javascript:alert(1)"],
  ["the same said twice", "#v=1&line=04-foldback&line=05-latch-off"],
];

/** What is wrong is said, and the page comes as it is without. */
export async function saidAndLeftOut(desk: Desk, hash: string): Promise<void> {
  const { page, wrong } = await desk.visit(`regulator-fails.html${hash}`);
  const dialogs: string[] = [];
  page.on("dialog", (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  const { notice, verdict } = benchOn(page);
  const told = await notice(/address/);
  expect(told).toMatch(/received|allowed|helps/);
  expect(told.length, told).toBeLessThan(3000);
  expect(await verdict()).toMatch(/^Radio (safe|withstood|endangered)/);
  expect(await page.locator("main img, main script, main iframe").count()).toBe(0);
  expect(dialogs).toEqual([]);
  expect(wrong()).toEqual([]);
  await page
    .getByRole("button", { name: /^Dismiss/ })
    .first()
    .click();
  await expect
    .poll(() =>
      page
        .locator(".notice")
        .filter({ hasText: /in the address|The address/ })
        .count(),
    )
    .toBe(0);
}
