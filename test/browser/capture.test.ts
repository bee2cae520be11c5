import { mkdtempSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";
import { withoutBrowser } from "../support/browser.ts";
import { violations } from "./support/accessible.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { drop } from "./support/drop.ts";
import { handedOut, lineInHand } from "./support/files.ts";
import { inHand, problemsOf } from "./support/openers.ts";

const captures = join(root, "packages/sim/captures");
const SHOWN = "What the capture shows";
const LAID = "Captured and simulated";
const FITTED = "With the values found";
const folder = mkdtempSync(join(tmpdir(), "railfault-capture-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const choose = (page: Page, path: string) => page.locator("input[type=file]").first().setInputFiles(path);

describe.skipIf(withoutBrowser())("what the scope saw", () => {
  const desk = openDesk();
  const open = async (search = "", options = {}) => {
    const visit = await desk.visit(`capture.html${search}`, options);
    return { ...visit, ...benchOn(visit.page) };
  };

  test("opens with a capture that is said to be synthetic, judged with its uncertainty and laid over its line", async () => {
    const { page, verdict, picture, wrong } = await open();
    expect(await verdict(SHOWN)).toMatch(
      /^Too close to call The peak voltage of "(?:supply|radio)", 14\.\d+ V \(true peak 14\.\d+…16\.\d+ V\), may be above/,
    );
    expect(await picture("The capture")).toMatch(/Synthetic capture: hiccup-supply/);
    expect(await picture("The capture")).toMatch(/simulated and seen through an instrument, not measured/);
    expect(await verdict(LAID)).toMatch(
      /^They agree The run as it stands and the capture differ by no more than noise/,
    );
    expect(
      await page
        .getByRole("region", { name: `${LAID}: events` })
        .getByRole("row")
        .count(),
    ).toBeGreaterThan(8);
    expect(await verdict(FITTED)).toMatch(/^Not searched yet/);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("a file that is refused is told in sight, and the list and the address name what is still shown", async () => {
    const { page, menu, settled, wrong } = await open("", { width: 390, height: 844, hasTouch: true });
    const shown = menu("Or one that comes with this page");
    await choose(page, join(captures, "../scenarios/01-shorted-pass-transistor.yaml"));
    const problems = problemsOf(page).getByText(/was not read; what stood here before stays/);
    await problems.waitFor();
    await settled();
    const { top, bottom } = await problemsOf(page).evaluate((box) => box.getBoundingClientRect());
    const answer = await page.locator(".bench-verdict").evaluate((box) => box.getBoundingClientRect().bottom);
    expect(top).toBeGreaterThanOrEqual(Math.max(0, answer) - 1);
    expect(bottom).toBeLessThanOrEqual(844);
    expect(await shown.inputValue()).toBe("hiccup");
    expect(page.url()).not.toContain("view.demo");
    await choose(page, join(captures, "hiccup-supply-synthetic-tab.txt"));
    await inHand(page, "hiccup-supply-synthetic-tab.txt");
    expect(await shown.inputValue()).toBe("own");
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await drop(page, "prose.txt", "Dear club,\nthe radio smelled funny.\nYours\n");
    await problems.waitFor();
    await expect.poll(() => problemsOf(page).evaluate((box) => box.getBoundingClientRect().top)).toBeLessThan(700);
    expect(await problemsOf(page).evaluate((box) => box.getBoundingClientRect().top)).toBeGreaterThan(0);
    expect(await shown.inputValue()).toBe("own");
    await expect.poll(() => page.url()).toContain("view.demo=own");
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("a file of a gigabyte is refused before it is read", async () => {
    const { page, wrong } = await open();
    const file = join(folder, "day.csv");
    writeFileSync(file, "time (s),radio (V)\n");
    truncateSync(file, 1 << 30);
    await choose(page, file);
    await problemsOf(page).getByText("This file is larger than any that is read.").waitFor();
    expect(await problemsOf(page).innerText()).toMatch(/1024 MB[\s\S]*512 MB/);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("another line and another fault are told as such", async () => {
    const { page, verdict, wrong } = await open("#v=1&line=01-shorted-pass-transistor&view.demo=hiccup");
    expect(await verdict(LAID)).toMatch(/^(?:Another line|They differ) /);
    expect(await page.locator(".capture-sentences").first().innerText()).toMatch(/another line|model lacks/);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("two values are found, by keyboard, with intervals and what they do not hold; the line goes on to another page", async () => {
    const { page, button, verdict, settled, wrong } = await open(
      "#v=1&line=02-hiccup-supply&set.crowbar.trip+voltage=14.4+V",
    );
    await button("Find the values").focus();
    await page.keyboard.press("Enter");
    await page.getByRole("region", { name: "Values found", exact: true }).waitFor({ timeout: 60_000 });
    await settled();
    expect(await verdict(FITTED)).toMatch(/^They agree 2 of 2 values found; what is left is noise/);
    const rows = await page.getByRole("region", { name: "Values found", exact: true }).getByRole("row").allInnerTexts();
    expect(rows[1]).toMatch(/^crowbar: trip voltage\s+1[45]\.\d+\sV ±\s0\.\d+\sV \(was 14\.4\sV\)/);
    expect(rows[2]).toMatch(/off time\s+(?:0\.\d+\ss|\d+\.\d+\sms) ±\s/);
    for (const text of [
      /says nothing about when the blade fuse 30\sA melts/,
      /held the truth in 93\s%/,
      /A likeness is no proof/,
    ])
      expect(await page.getByText(text).count()).toBe(1);
    expect(await page.getByRole("region", { name: "Verdict with these values" }).innerText()).toMatch(/relay radio/);
    // Engines differ in a last digit, and the search in its number of runs.
    expect(await page.getByText(/It took \d+ simulations/).count()).toBe(0);
    expect(await violations(page)).toEqual([]);
    const saved = await handedOut(page, () => button("Save the fitted line as file").click());
    expect(saved.name).toMatch(/\.yaml$/);
    expect(saved.bytes.toString("utf8")).toMatch(/^# Fitted to the capture hiccup-supply-synthetic-semicolon\.csv:/);
    await page.getByRole("link", { name: "The file", exact: true }).last().click();
    await page.waitForURL(/file\.html/);
    await settled();
    expect(await lineInHand(page)).toBe(saved.bytes.toString("utf8"));
    expect(wrong()).toEqual([]);
  }, 120_000);
});
