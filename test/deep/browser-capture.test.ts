import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { drop } from "../browser/support/drop.ts";
import { captureFigures, inHand, problemsOf } from "../browser/support/openers.ts";
import { root } from "../ground/files.ts";
import { withoutBrowser } from "../support/browser.ts";

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

  test("a file of each of the five ways of writing falls on the page and is read without a hand", async () => {
    const { page, settled, wrong } = await open();
    const files = readdirSync(captures).filter((file) => file.startsWith("shorted-pass-transistor"));
    expect(files).toHaveLength(5);
    for (const file of files) {
      await drop(page, file, readFileSync(join(captures, file), "utf8"));
      await inHand(page, file);
      await settled();
      const rows = await captureFigures(page);
      expect(rows[1], file).toMatch(/^radio[^\t]*\s+14\.7\d* V \(14\.\d+…14\.\d+ V\)/);
      expect(rows[2], file).toMatch(/^crowbar[^\t]*\s+\d+(?:\.\d+)? A \(\d+(?:\.\d+)?…\d+(?:\.\d+)? A\)/);
      expect(await page.locator(".capture-understood li").count(), file).toBeGreaterThan(3);
    }
    expect(wrong()).toEqual([]);
  }, 120_000);

  /** The file, what is in it, and what is said of it. */
  const refused: readonly (readonly [name: string, text: string, said: RegExp])[] = [
    ["prose.txt", "Dear club,\nthe radio smelled funny.\nYours\n", /no table|No table/i],
    ["one.csv", "V\n13.8\n13.9\n13.7\n13.8\n13.9\n", /one column/],
    [
      "equal.csv",
      `time (s),radio (V)\n${[0, 1, 2, 3, 4].map((t) => `${t},13.8`).join("\n")}\n`,
      /All values of "radio" are equal/,
    ],
    ["still.csv", `time (s),radio (V)\n${[0, 1, 2, 3, 4].map((v) => `7,${v}`).join("\n")}\n`, /time stands still/],
    ["units.csv", "time (s),radio (°C)\n0,20\n1,21\n2,22\n3,21\n4,25\n", /neither a voltage nor a current/],
    ["picture.csv", "\u0000\u0001\u0002PNG\u0000", /no text/],
  ];

  test("files that cannot be read, one after the other: a clear message of each, and the work so far is kept", async () => {
    const { page, verdict, settled, wrong } = await open();
    const before = [await verdict(SHOWN), await captureFigures(page)];
    for (const [name, text, said] of refused) {
      await drop(page, name, text);
      await problemsOf(page).getByText(`“${name}” was not read; what stood here before stays`).waitFor();
      expect(await problemsOf(page).innerText(), name).toMatch(said);
      await settled();
      expect([await verdict(SHOWN), await captureFigures(page)], name).toEqual(before);
    }
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("a file that is refused while the one in hand is being laid over its run does not end that", async () => {
    const { page, wrong } = await desk.visit("capture.html");
    await page.getByText("In hand: ").waitFor();
    const column = join(folder, "column.csv");
    writeFileSync(column, `U (V)\n${"13.8\n13.7\n".repeat(200)}`);
    await choose(page, column);
    await problemsOf(page).getByText("There is one column only").waitFor();
    await expect.poll(() => benchOn(page).verdict(LAID), { timeout: 20_000 }).toMatch(/^They agree/);
    expect(wrong()).toEqual([]);
  });

  test("what was wrong with one file is not said of the next", async () => {
    const { page, notice, settled, wrong } = await open();
    await drop(page, "prose.txt", "Dear club,\nthe radio smelled funny.\nYours\n");
    const problems = problemsOf(page).getByText(/“prose.txt” was not read/);
    await problems.waitFor();
    await drop(page, "broken.yaml", "title: broken\nsources: 7\n");
    expect(await notice(/broken\.yaml was not opened/)).toContain("There");
    expect(await problems.count()).toBe(0);
    await drop(page, "prose.txt", "Dear club,\nthe radio smelled funny.\nYours\n");
    await problems.waitFor();
    expect(await page.locator(".notice").count()).toBe(0);
    await settled();
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("what was understood is corrected: a probe, a name, and a time column that is none", async () => {
    const { page, button, menu, settled, wrong } = await open();
    await page.getByText("Correct what was understood").click();
    const second = page.getByRole("region", { name: "Column 2" });
    await second.getByLabel("Still to be multiplied by").selectOption("10");
    await second.getByLabel("Name").fill("bench radio");
    await page.keyboard.press("Enter");
    await page.getByText("Changed, not read yet.").waitFor();
    await button("Read again with these").click();
    await page.getByText("Changed, not read yet.").waitFor({ state: "detached" });
    await settled();
    expect((await captureFigures(page))[1]).toMatch(/^bench radio\s+14\d(?:\.\d+)? V \(14\d/);
    // Nothing in the line is called so: the page says which, and a menu says what it shows.
    await menu("“bench radio” shows").selectOption("relay_radio_V");
    await settled();
    const clamp = page.getByRole("region", { name: "Column 3" }).getByLabel("Shunt or clamp");
    await clamp.fill("some shunt");
    await page.keyboard.press("Enter");
    await button("Read again with these").click();
    await page.getByText("Column 3, “Shunt or clamp”: this cannot be read.").waitFor();
    await clamp.fill("");
    await page.keyboard.press("Enter");
    await page.getByRole("region", { name: "Column 1" }).getByRole("radio", { name: "left out" }).check();
    await button("Read again with these").click();
    await problemsOf(page)
      .getByText(/No column holds the time/)
      .waitFor();
    expect(await problemsOf(page).innerText()).toMatch(/was not read; what stood here before stays/);
    expect((await captureFigures(page))[1]).toMatch(/^bench radio/);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("a search is cancelled, and bounds that make no sense are told", async () => {
    const { page, button, verdict, settled, wrong } = await open();
    await page.getByLabel("Bounds: crowbar: trip voltage").fill("twelve");
    await page.keyboard.press("Enter");
    await button("Find the values").click();
    await page.getByText("Nothing was searched for").waitFor();
    await settled();
    await page.getByLabel("Bounds: crowbar: trip voltage").fill("14…16 V");
    await page.keyboard.press("Enter");
    for (const name of [/limit, detection time/, /limit, ramp time/, /limit, current/, /input capacitance/])
      await page.getByRole("checkbox", { name }).check();
    await button("Find the values").click();
    await page.getByRole("button", { name: "Cancel: Search for the values" }).click();
    await settled();
    expect(await verdict(FITTED)).toMatch(/^Cancelled/);
    expect(page.url()).toContain("view.free=");
    expect(wrong()).toEqual([]);
  }, 60_000);
});
